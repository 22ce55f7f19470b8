package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.exchanger.FoulingTrend;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Crossing;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;

/**
 * When a figure reaches its limit, counted in days from {@code at}; an end that is absent lies beyond two years.
 *
 * @param figure the figure's key; level and limit are in its unit
 * @param form linear or asymptotic
 * @param reason why there is no forecast; then only figure, level and limit are there
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record ForecastView(
        String figure,
        Instant at,
        Double level,
        Double levelStandardUncertainty,
        Double limit,
        String form,
        Double medianDays,
        Double lower80Days,
        Double upper80Days,
        Double lower95Days,
        Double upper95Days,
        String reason) {

    /** Fouling of the exchangers, until the promise of the nameplate is no longer kept; empty before any whole day. */
    public static List<ForecastView> fouling(Optional<FoulingHistory> history, Nameplate nameplate) {
        return history.filter(known -> !known.days().isEmpty()).stream()
                .map(known -> of(known, nameplate))
                .toList();
    }

    private static ForecastView of(FoulingHistory history, Nameplate nameplate) {
        long lastDay = history.days().get(history.days().size() - 1).epochDay();
        Instant at =
                LocalDate.ofEpochDay(lastDay + 1).atStartOfDay(ZoneOffset.UTC).toInstant();
        ForecastView now = FoulingTrend.level(history)
                .fold(
                        level -> level(at, level.value(), level.standardUncertainty(), limit(history, nameplate), null),
                        gap -> level(at, null, null, limit(history, nameplate), gap.detail()));
        return FoulingTrend.forecast(history, nameplate)
                .fold(
                        crossing -> now.with(crossing),
                        gap -> level(at, now.level, now.levelStandardUncertainty, now.limit, gap.detail()));
    }

    private static Double limit(FoulingHistory history, Nameplate nameplate) {
        Computed<Double> limit = FoulingTrend.limitKPerW(history, nameplate);
        return limit.fold(value -> value, gap -> null);
    }

    private static ForecastView level(Instant at, Double level, Double uncertainty, Double limit, String reason) {
        return new ForecastView(
                "fouling-resistance", at, level, uncertainty, limit, null, null, null, null, null, null, reason);
    }

    private ForecastView with(Crossing crossing) {
        return new ForecastView(
                figure,
                at,
                level,
                levelStandardUncertainty,
                limit,
                FigureView.hyphenated(crossing.preferred()),
                days(crossing.median()),
                days(crossing.lower80()),
                days(crossing.upper80()),
                days(crossing.lower95()),
                days(crossing.upper95()),
                null);
    }

    private static Double days(Crossing.Bound bound) {
        return bound.x().isPresent() ? bound.x().getAsDouble() : null;
    }
}
