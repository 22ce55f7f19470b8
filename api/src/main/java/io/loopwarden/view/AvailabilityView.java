package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.availability.Availability;
import io.loopwarden.availability.Condition;
import io.loopwarden.availability.UnitLife;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * How a unit, or all of them together, have fared since they are watched.
 *
 * @param unit absent for the fleet
 * @param secondsIn running, degraded, redundancy-lost, down, out-of-use, unknown
 * @param availability up over up or down; what is planned or unknown counts in neither
 * @param availabilityUnknownDown the same with the unknown counted as down
 * @param nines of {@code availability}; absent where it never was down
 * @param standsOnS time up or down that these stand on
 * @param meanTimeBetweenFailuresS absent without a failure
 * @param mtbfLower90S lower end of the 90 % interval; without a failure a one-sided 90 % bound
 * @param outlives share of operating times that last longer, in steps (Kaplan and Meier)
 * @param changes latest changes of condition; empty for the fleet
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record AvailabilityView(
        String unit,
        String now,
        Map<String, Double> secondsIn,
        long failures,
        Double availability,
        Double availabilityUnknownDown,
        Double nines,
        double standsOnS,
        Double meanTimeBetweenFailuresS,
        double mtbfLower90S,
        Double mtbfUpper90S,
        List<Outlives> outlives,
        List<Change> changes) {

    public record Outlives(double timeS, double share) {}

    public record Change(Instant at, String to) {}

    /** The fleet as one, and each unit. */
    public record Fleet(AvailabilityView fleet, List<AvailabilityView> units) {}

    public static AvailabilityView ofUnit(String unit, UnitLife life) {
        List<Change> changes = life.changes().stream()
                .map(c -> new Change(
                        Instant.ofEpochMilli(Math.round(1000 * c.atEpochS())), FigureView.hyphenated(c.to())))
                .toList();
        return of(unit, FigureView.hyphenated(life.now()), Availability.of(List.of(life)), changes);
    }

    public static AvailabilityView ofFleet(List<UnitLife> lives) {
        return of(null, null, Availability.of(lives), List.of());
    }

    private static AvailabilityView of(String unit, String now, Availability a, List<Change> changes) {
        Map<String, Double> seconds = new LinkedHashMap<>();
        for (Condition condition : Condition.values()) {
            seconds.put(FigureView.hyphenated(condition), a.secondsIn().get(condition));
        }
        return new AvailabilityView(
                unit,
                now,
                seconds,
                a.failures(),
                boxed(a.upOfKnown()),
                boxed(a.upOfAll()),
                boxed(a.nines()),
                a.knownSeconds(),
                boxed(a.betweenFailuresS().mean()),
                a.betweenFailuresS().lower(),
                boxed(a.betweenFailuresS().upper()),
                a.outlives().steps().stream()
                        .map(s -> new Outlives(s.time(), s.share()))
                        .toList(),
                changes);
    }

    private static Double boxed(OptionalDouble value) {
        return value.isPresent() ? value.getAsDouble() : null;
    }
}
