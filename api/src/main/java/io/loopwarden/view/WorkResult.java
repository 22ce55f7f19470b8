package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.indicator.Indicator;
import io.loopwarden.indicator.Indicators;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.store.FigureBucket;
import io.loopwarden.store.FigureReader;
import io.loopwarden.store.FigureSeries;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/**
 * What work on a unit brought: the mean of a figure over the days before and after it.
 *
 * @param unit UCUM code of the means and the change
 * @param change after less before, absent where one of them is not known
 * @param changeStandardUncertainty the errors of both taken as independent, which overstates it where they share sensors
 * @param told whether the change is larger than 1.96 of that, so that it cannot well be chance
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record WorkResult(
        String figure,
        String unit,
        Side before,
        Side after,
        Double change,
        Double changeStandardUncertainty,
        Boolean told) {

    /** @param minutes minutes with a value; without any there is no mean */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record Side(Instant from, Instant to, long minutes, Double mean, Double standardUncertainty) {}

    private static final Duration LOOK = Duration.ofDays(7);
    private static final int STEPS = 200;
    private static final double K95 = 1.96;

    /** One result for each figure that such work should move; none for work that moves no figure. */
    public static List<WorkResult> of(MaintenanceEntry entry, FigureReader reader, Instant now) throws SQLException {
        List<WorkResult> results = new ArrayList<>();
        for (String figure : figures(entry)) {
            Side before = side(entry, reader, figure, entry.from().minus(LOOK), entry.from());
            Instant end = entry.until().plus(LOOK).isBefore(now) ? entry.until().plus(LOOK) : now;
            Side after = end.isAfter(entry.until())
                    ? side(entry, reader, figure, entry.until(), end)
                    : new Side(entry.until(), entry.until(), 0, null, null);
            results.add(between(figure, before, after));
        }
        return results;
    }

    private static String unitOf(String figure) {
        return Indicators.ALL.stream()
                .filter(indicator -> indicator.key().equals(figure))
                .map(Indicator::unit)
                .findFirst()
                .orElse("1");
    }

    private static List<String> figures(MaintenanceEntry entry) {
        String part = entry.part().orElse("");
        return switch (entry.kind()) {
            case CLEANING ->
                part.startsWith("exchanger")
                        ? List.of("heat-transfer-reserve", "ua", "fouling-resistance")
                        : List.of("control-reserve");
            case FILTER_CHANGE -> List.of("filtration-reserve", "filter-dp-at-rated-flow");
            case CALIBRATION -> List.of("heat-balance-closure");
            case PART_REPLACED ->
                part.startsWith("pump")
                        ? List.of("pumping-reserve", "pump-efficiency")
                        : part.startsWith("exchanger") ? List.of("heat-transfer-reserve") : List.of();
            default -> List.of();
        };
    }

    private static Side side(MaintenanceEntry entry, FigureReader reader, String figure, Instant from, Instant to)
            throws SQLException {
        FigureSeries series = reader.series(entry.unit(), figure, from, to, STEPS);
        double sum = 0;
        double uncertainty = 0;
        long minutes = 0;
        for (FigureBucket bucket : series.buckets()) {
            boolean whole = !bucket.start().isBefore(from)
                    && !bucket.start().plus(series.step()).isAfter(to);
            if (whole && bucket.values() > 0) {
                sum += bucket.values() * bucket.mean().orElseThrow();
                uncertainty += bucket.values() * bucket.standardUncertainty().orElseThrow();
                minutes += bucket.values();
            }
        }
        return minutes == 0
                ? new Side(from, to, 0, null, null)
                : new Side(from, to, minutes, sum / minutes, uncertainty / minutes);
    }

    private static WorkResult between(String figure, Side before, Side after) {
        if (before.mean == null || after.mean == null) {
            return new WorkResult(figure, unitOf(figure), before, after, null, null, null);
        }
        double change = after.mean - before.mean;
        double uncertainty = Math.hypot(before.standardUncertainty, after.standardUncertainty);
        return new WorkResult(
                figure, unitOf(figure), before, after, change, uncertainty, Math.abs(change) > K95 * uncertainty);
    }
}
