package io.loopwarden.compare;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.store.Bucket;
import io.loopwarden.store.FigureBucket;
import io.loopwarden.store.FigureReader;
import io.loopwarden.store.FigureSeries;
import io.loopwarden.store.SampleReader;
import io.loopwarden.store.Series;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;

/**
 * Where the figures of a unit come from over a time, with checksums: whoever asks the store for the same time by the hour gets the same
 * bytes, and so the same sums.
 */
public record EvidenceSheet(
        String unit,
        Instant from,
        Instant to,
        List<PointSource> points,
        List<FigureSource> figures,
        String checksumOf) {

    private static final String CHECKSUM_OF =
            "SHA-256 over one line an hour: start;count;good;bad;min;max;mean for points,"
                    + " start;values;gaps;min;max;mean;u for figures; numbers as 64-bit hexadecimal floats, lines ended by LF";
    private static final int MOST_HOURS = 10_000;

    /** @param hours hours with samples */
    public record PointSource(String point, long samples, long good, long bad, int hours, String sha256) {}

    /** @param minutes minutes with a value; {@code gapMinutes} those with a reason instead */
    public record FigureSource(String key, long minutes, long gapMinutes, String sha256) {}

    public static EvidenceSheet of(
            UnitId unit,
            Collection<PointName> points,
            Collection<String> figures,
            SampleReader samples,
            FigureReader reader,
            Instant from,
            Instant to)
            throws SQLException {
        int hours = (int)
                Math.min(MOST_HOURS, Math.max(1, Duration.between(from, to).toHours()));
        List<PointSource> pointSources = new ArrayList<>();
        for (PointName point : points) {
            pointSources.add(point(point, samples.series(unit, point, from, to, hours)));
        }
        List<FigureSource> figureSources = new ArrayList<>();
        for (String key : figures) {
            figureSources.add(figure(key, reader.series(unit, key, from, to, hours)));
        }
        return new EvidenceSheet(unit.value(), from, to, pointSources, figureSources, CHECKSUM_OF);
    }

    private static PointSource point(PointName point, Series series) {
        MessageDigest sum = sha256();
        long samples = 0;
        long good = 0;
        long bad = 0;
        for (Bucket each : series.buckets()) {
            samples += each.count();
            good += each.goodCount();
            bad += each.badCount();
            String values = each.hasValue() ? hex(each.minSi(), each.maxSi(), each.meanSi()) : ";;";
            line(
                    sum,
                    each.start() + ";" + each.count() + ";" + each.goodCount() + ";" + each.badCount() + ";" + values);
        }
        return new PointSource(
                point.value(), samples, good, bad, series.buckets().size(), text(sum));
    }

    private static FigureSource figure(String key, FigureSeries series) {
        MessageDigest sum = sha256();
        long minutes = 0;
        long gaps = 0;
        for (FigureBucket each : series.buckets()) {
            minutes += each.values();
            gaps += each.gaps();
            String values = each.values() > 0
                    ? hex(
                            each.min().orElseThrow(),
                            each.max().orElseThrow(),
                            each.mean().orElseThrow(),
                            each.standardUncertainty().orElseThrow())
                    : ";;;";
            line(sum, each.start() + ";" + each.values() + ";" + each.gaps() + ";" + values);
        }
        return new FigureSource(key, minutes, gaps, text(sum));
    }

    private static String hex(double... values) {
        List<String> parts = new ArrayList<>();
        for (double value : values) {
            parts.add(Double.toHexString(value).toLowerCase(Locale.ROOT));
        }
        return String.join(";", parts);
    }

    private static void line(MessageDigest sum, String line) {
        sum.update((line + "\n").getBytes(StandardCharsets.UTF_8));
    }

    /** Of a text, for example a file of the fleet folder. */
    public static String sha256(String text) {
        MessageDigest sum = sha256();
        sum.update(text.getBytes(StandardCharsets.UTF_8));
        return text(sum);
    }

    private static String text(MessageDigest sum) {
        return HexFormat.of().formatHex(sum.digest());
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
