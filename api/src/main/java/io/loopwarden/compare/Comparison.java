package io.loopwarden.compare;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.cohort.Cohort;
import io.loopwarden.cohort.CohortComparison;
import io.loopwarden.cohort.CohortComparison.Verdict;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceLog;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.store.FigureReader;
import io.loopwarden.store.FigureSeries;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;

/**
 * Cohorts by one measure.
 *
 * @param unit UCUM code of every value
 * @param sentence what it comes to, in words
 * @param method how the numbers were made
 */
public record Comparison(
        String measure,
        String words,
        String by,
        String unit,
        Instant from,
        Instant to,
        String sentence,
        List<String> method,
        List<CohortView> cohorts,
        List<PairView> pairs,
        List<UnitValue> units) {

    private static final int MOST_STEPS = 4_000;

    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record CohortView(String name, int units, int unitsWithValue, Double mean, Double lower95, Double upper95) {}

    /** @param verdict different, no-difference-told or not-enough-units */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record PairView(
            String first,
            String second,
            Double difference,
            Double lower95,
            Double upper95,
            Double probability,
            String verdict) {}

    /** @param detail why there is no value */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record UnitValue(String unit, String cohort, Double value, Double standardUncertainty, String detail) {}

    public static Comparison of(
            Measure measure,
            Grouping by,
            Collection<Unit> units,
            List<MaintenanceEntry> work,
            FigureReader reader,
            Instant from,
            Instant to)
            throws SQLException {
        Map<UnitId, MaintenanceLog> logs = new HashMap<>();
        work.forEach(entry -> logs.merge(
                entry.unit(),
                MaintenanceLog.EMPTY.with(entry),
                (log, one) -> log.with(one.written().get(0))));
        List<UnitId> ids = units.stream().map(Unit::id).toList();
        int days = (int)
                Math.min(MOST_STEPS, Math.max(1, Duration.between(from, to).toDays()));
        Map<UnitId, FigureSeries> series =
                measure.figure().isPresent() ? reader.all(ids, measure.figure().get(), from, to, days) : Map.of();
        List<UnitValue> values = new ArrayList<>();
        Map<String, List<UnitValue>> grouped = new TreeMap<>();
        for (Unit unit : units) {
            MaintenanceLog log = logs.getOrDefault(unit.id(), MaintenanceLog.EMPTY);
            Computed<Estimate> value = measure.figure().isPresent()
                    ? measure.of(series.get(unit.id()), log, from, to)
                    : Measure.filterLife(log);
            String cohort = by.of(unit, log);
            UnitValue one = value.fold(
                    e -> new UnitValue(unit.id().value(), cohort, e.value(), e.standardUncertainty(), null),
                    gap -> new UnitValue(unit.id().value(), cohort, null, null, gap.detail()));
            values.add(one);
            grouped.computeIfAbsent(cohort, name -> new ArrayList<>()).add(one);
        }
        return of(measure, by, from, to, values, grouped);
    }

    private static Comparison of(
            Measure measure,
            Grouping by,
            Instant from,
            Instant to,
            List<UnitValue> values,
            Map<String, List<UnitValue>> grouped) {
        CohortComparison compared = CohortComparison.of(grouped.entrySet().stream()
                .map(cohort -> new Cohort(
                        cohort.getKey(),
                        cohort.getValue().stream()
                                .map(UnitValue::value)
                                .filter(value -> value != null)
                                .toList()))
                .toList());
        List<CohortView> cohorts = compared.cohorts().stream()
                .map(c -> new CohortView(
                        c.name(),
                        grouped.get(c.name()).size(),
                        c.units(),
                        orNull(c.mean()),
                        orNull(c.lower95()),
                        orNull(c.upper95())))
                .toList();
        List<PairView> pairs = compared.pairs().stream().map(Comparison::view).toList();
        return new Comparison(
                measure.key(),
                measure.words(),
                by.key(),
                measure.ucum(),
                from,
                to,
                sentence(pairs, cohorts),
                List.of(
                        measure.method(),
                        "One value a unit; a cohort's interval is Student's for the mean of its units, 95 %.",
                        "Pairs by Welch's test, probabilities corrected for " + pairs.size()
                                + " pairs after Holm (1979); intervals of differences hold for all pairs together.",
                        "Fewer than " + CohortComparison.LEAST_UNITS + " units with a value are not enough to tell."),
                cohorts,
                pairs,
                values);
    }

    private static PairView view(CohortComparison.Pair pair) {
        return new PairView(
                pair.first(),
                pair.second(),
                orNull(pair.difference()),
                orNull(pair.lower95()),
                orNull(pair.upper95()),
                orNull(pair.probability()),
                pair.verdict().name().toLowerCase(Locale.ROOT).replace('_', '-'));
    }

    private static Double orNull(OptionalDouble value) {
        return value.isPresent() ? value.getAsDouble() : null;
    }

    static String sentence(List<PairView> pairs, List<CohortView> cohorts) {
        List<PairView> different = pairs.stream()
                .filter(pair -> pair.verdict().equals(word(Verdict.DIFFERENT)))
                .toList();
        if (!different.isEmpty()) {
            PairView first = different.get(0);
            boolean firstHigher = first.difference() > 0;
            String rest = different.size() == 1 ? "" : ", and " + (different.size() - 1) + " more pairs differ";
            return (firstHigher ? first.first() : first.second()) + " is higher than "
                    + (firstHigher ? first.second() : first.first()) + rest + ".";
        }
        boolean told = pairs.stream().anyMatch(pair -> pair.verdict().equals(word(Verdict.NO_DIFFERENCE_TOLD)));
        if (told) {
            return "No difference can be told.";
        }
        return cohorts.size() < 2 ? "There is only one cohort: nothing to compare." : "Not enough units to tell.";
    }

    private static String word(Verdict verdict) {
        return verdict.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
