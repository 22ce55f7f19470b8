package io.loopwarden.compare;

import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.MaintenanceLog;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.TheilSen;
import io.loopwarden.store.FigureBucket;
import io.loopwarden.store.FigureSeries;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** What units are compared by: one number a unit, out of its figures or its maintenance log over a time. */
public enum Measure {
    FOULING_RATE("fouling-resistance", "K/W", "Rise of the fouling resistance in 30 days", false),
    FILTER_LOADING(
            "filter-dp-at-rated-flow", "Pa", "Rise of the most loaded filter's Δp at rated flow in 30 days", false),
    FILTER_LIFE("", "d", "Days between changes of a filter, from the maintenance log", false),
    PUMP_WEAR("pump-efficiency", "1", "Change of pump efficiency in 30 days", false),
    HEAT_RESERVE("heat-transfer-reserve", "1", "Mean reserve of heat transfer", true),
    AVAILABILITY("available", "1", "Share of the time without a failure signal", true);

    /** Days with a value that a slope needs. */
    private static final int LEAST_DAYS = 7;

    private static final double PER_DAYS = 30;
    private static final double SECONDS_A_DAY = 86_400;

    private final String figure;
    private final String ucum;
    private final String words;
    private final boolean mean;

    Measure(String figure, String ucum, String words, boolean mean) {
        this.figure = figure;
        this.ucum = ucum;
        this.words = words;
        this.mean = mean;
    }

    /** Its name in addresses. */
    public String key() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    public static Optional<Measure> of(String key) {
        for (Measure measure : values()) {
            if (measure.key().equals(key)) {
                return Optional.of(measure);
            }
        }
        return Optional.empty();
    }

    /** Key of the figure it is made of; empty where it is made of the maintenance log. */
    public Optional<String> figure() {
        return figure.isEmpty() ? Optional.empty() : Optional.of(figure);
    }

    public String ucum() {
        return ucum;
    }

    public String words() {
        return words;
    }

    /** How it is worked out, in one sentence. */
    public String method() {
        if (figure.isEmpty()) {
            return "Mean time from one change of the same filter to the next that was written down.";
        }
        return mean
                ? "Mean over the minutes with a value."
                : "Theil–Sen slope of the daily means since the unit's last such work, at least " + LEAST_DAYS
                        + " days.";
    }

    /** Of one unit, from the series of its figure by day. */
    public Computed<Estimate> of(FigureSeries series, MaintenanceLog log, Instant from, Instant to) {
        return mean ? mean(series) : slope(series, since(log, from, to));
    }

    /** Work on the part starts a new slope. */
    private Instant since(MaintenanceLog log, Instant from, Instant to) {
        Optional<Instant> last = switch (this) {
            case FOULING_RATE -> log.last(MaintenanceKind.CLEANING, "exchanger", to);
            case FILTER_LOADING ->
                log.entries().stream()
                        .filter(entry -> entry.kind() == MaintenanceKind.FILTER_CHANGE)
                        .map(MaintenanceEntry::until)
                        .max(Instant::compareTo);
            default -> Optional.empty();
        };
        return last.filter(at -> at.isAfter(from)).orElse(from);
    }

    private static Computed<Estimate> mean(FigureSeries series) {
        double sum = 0;
        double uncertainty = 0;
        long minutes = 0;
        for (FigureBucket bucket : series.buckets()) {
            if (bucket.values() > 0) {
                sum += bucket.values() * bucket.mean().orElseThrow();
                uncertainty += bucket.values() * bucket.standardUncertainty().orElseThrow();
                minutes += bucket.values();
            }
        }
        return minutes == 0
                ? Computed.unavailable(Reason.INPUT_MISSING, "No minute with a value in this time.")
                : Computed.of(new Estimate(sum / minutes, uncertainty / minutes));
    }

    private static Computed<Estimate> slope(FigureSeries series, Instant since) {
        List<FigureBucket> days = series.buckets().stream()
                .filter(bucket -> bucket.values() > 0 && !bucket.start().isBefore(since))
                .toList();
        if (days.size() < LEAST_DAYS) {
            return Computed.unavailable(
                    Reason.BASELINE_MISSING, days.size() + " days with a value, " + LEAST_DAYS + " are needed.");
        }
        double[] x = days.stream()
                .mapToDouble(day -> day.start().getEpochSecond() / SECONDS_A_DAY)
                .toArray();
        double[] y = days.stream().mapToDouble(day -> day.mean().orElseThrow()).toArray();
        return TheilSen.of(x, y, 0.95)
                .map(line -> new Estimate(
                        PER_DAYS * line.slope(),
                        PER_DAYS * (line.upperSlope() - line.lowerSlope()) / 2 / Estimate.K95));
    }

    /** Filter life of one unit from its log. */
    public static Computed<Estimate> filterLife(MaintenanceLog log) {
        Map<String, Instant> lastChange = new HashMap<>();
        List<Double> lives = new ArrayList<>();
        for (MaintenanceEntry entry : log.entries()) {
            if (entry.kind() == MaintenanceKind.FILTER_CHANGE) {
                Instant before = lastChange.put(entry.part().orElse(""), entry.until());
                if (before != null) {
                    lives.add(Duration.between(before, entry.until()).toSeconds() / SECONDS_A_DAY);
                }
            }
        }
        double mean = lives.stream().mapToDouble(Double::doubleValue).average().orElse(0);
        double squares = lives.stream()
                .mapToDouble(life -> (life - mean) * (life - mean))
                .sum();
        int n = lives.size();
        return n == 0
                ? Computed.unavailable(Reason.INPUT_MISSING, "No filter was written down as changed twice.")
                : Computed.of(new Estimate(mean, n < 2 ? 0 : Math.sqrt(squares / (n - 1) / n)));
    }
}
