package io.loopwarden.bench;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.store.Bucket;
import io.loopwarden.store.SampleReader;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.Series;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;

/** One point over one year at screen width, from 1 s data: from roll-ups, and the same answer straight from raw samples. */
final class YearQuery implements BenchMain.Row {

    private static final Instant START = Instant.parse("2025-11-17T00:00:00Z");
    private static final UnitId UNIT = new UnitId("YEAR");
    private static final int WIDTH = 1200;
    private static final int POINTS = 2;
    private static final double GOAL_MS = 30;

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int days = wanted.of(2, 30, 365);
        Instant to = START.plus(Duration.ofDays(days));
        Clock clock = Clock.fixed(to.plus(Duration.ofHours(2)), ZoneOffset.UTC);
        MadeScans made = new MadeScans(POINTS);
        PointName point = made.point(1);
        try (BenchStore database = new BenchStore()) {
            try (SampleStore store = database.openHasty(clock)) {
                fill(store, made, UNIT, START, days);
                close(store);
            }
            database.execute("VACUUM ANALYZE");
            try (SampleStore store = database.open(clock)) {
                SampleReader reader = store.reader();
                Series series = reader.series(UNIT, point, START, to, WIDTH);
                check(series.buckets(), raw(reader, point, to, series.step()));
                Runs ours = Timed.ms(
                        wanted.of(1, 20, 40),
                        wanted.of(3, 60, 200),
                        () -> reader.series(UNIT, point, START, to, WIDTH));
                Runs raw = Timed.ms(0, wanted.of(1, 3, 3), () -> raw(reader, point, to, series.step()));
                String what = "one point over " + days + " days of 1 s data at width " + WIDTH;
                return Sheet.of(
                        Line.time(what + ", against raw frames", ours, raw, "ms", 100),
                        Line.atMost(what + ", p95", Runs.of(ours.quantile(0.95)), "ms", GOAL_MS));
            }
        }
    }

    static void fill(SampleStore store, MadeScans made, UnitId unit, Instant from, int days) throws Exception {
        for (int hour = 0; hour < 24 * days; hour++) {
            List<Scan> scans = new ArrayList<>(3600);
            for (int second = 0; second < 3600; second++) {
                scans.add(made.scan(unit, from.plusSeconds(3600L * hour + second)));
            }
            store.store(scans);
        }
    }

    static void close(SampleStore store) throws SQLException {
        int closed = 1;
        while (closed > 0) {
            closed = store.closeDueHours();
        }
    }

    private static final class Sum {
        long count;
        double min = Double.POSITIVE_INFINITY;
        double max = Double.NEGATIVE_INFINITY;
        double total;

        void add(Sample sample) {
            double value = sample.valueSi();
            count++;
            min = Math.min(min, value);
            max = Math.max(max, value);
            total += value;
        }
    }

    /** As somebody does it who has no roll-ups: every sample of the range. */
    private static TreeMap<Long, Sum> raw(SampleReader reader, PointName point, Instant to, Duration step)
            throws SQLException {
        TreeMap<Long, Sum> sums = new TreeMap<>();
        long stepS = step.toSeconds();
        Sum[] current = {null};
        long[] endS = {Long.MIN_VALUE};
        reader.samples(UNIT, point, START, to, sample -> {
            long second = sample.measuredAt().getEpochSecond();
            if (second >= endS[0]) {
                long startS = second - Math.floorMod(second, stepS);
                endS[0] = startS + stepS;
                current[0] = sums.computeIfAbsent(startS, s -> new Sum());
            }
            current[0].add(sample);
        });
        return sums;
    }

    private static void check(List<Bucket> buckets, TreeMap<Long, Sum> sums) {
        if (buckets.size() != sums.size()) {
            throw new IllegalStateException(buckets.size() + " buckets, from raw samples " + sums.size());
        }
        for (Bucket bucket : buckets) {
            Sum sum = sums.get(bucket.start().getEpochSecond());
            boolean same = sum != null
                    && sum.count == bucket.count()
                    && sum.min == bucket.minSi()
                    && sum.max == bucket.maxSi()
                    && Math.abs(sum.total / sum.count - bucket.meanSi()) < 1e-9 * Math.abs(bucket.meanSi());
            if (!same) {
                throw new IllegalStateException("another answer from raw samples than " + bucket);
            }
        }
    }
}
