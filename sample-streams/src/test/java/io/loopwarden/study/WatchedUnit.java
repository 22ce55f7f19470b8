package io.loopwarden.study;

import io.loopwarden.exchanger.Conductance;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.virtual.Truth;
import io.loopwarden.virtual.VirtualUnit;
import io.loopwarden.watch.UnitFigures;
import io.loopwarden.watch.UnitWatch;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/**
 * A virtual unit and the watch over it, hour by hour: each hour ends with sixteen minutes of samples, one a minute, and one
 * evaluation.
 */
final class WatchedUnit {

    static final List<PointName> WATCHED = List.of(
            Points.TCS_SUPPLY_TEMPERATURE,
            Points.TCS_RETURN_TEMPERATURE,
            Points.FWS_SUPPLY_TEMPERATURE,
            Points.FWS_RETURN_TEMPERATURE,
            Points.TCS_FLOW,
            Points.FWS_FLOW,
            Points.FWS_VALVE_POSITION,
            Points.FWS_DP);

    private static final Duration UNWATCHED_STEP = Duration.ofMinutes(4);
    private static final int UNWATCHED_STEPS = 11;
    private static final int SAMPLED_MINUTES = 16;
    private static final int TRUTH_EVERY_MINUTES = 4;
    private static final double ABOUT_WATER_J_PER_M3K = 4.1e6;

    private final VirtualUnit unit;
    private final UnitWatch watch;
    private final List<PointName> points;

    WatchedUnit(TrialUnits.Trial trial) {
        this(trial, List.of());
    }

    /** @param more points beside those that heat transfer cannot do without */
    WatchedUnit(TrialUnits.Trial trial, List<PointName> more) {
        points = new ArrayList<>(WATCHED);
        points.addAll(more);
        unit = new VirtualUnit(trial.spec(), TrialUnits.START);
        watch = new UnitWatch(new Unit(new UnitId(unit.id()), "study", "study", trial.nameplate()));
    }

    VirtualUnit unit() {
        return unit;
    }

    FoulingHistory history() {
        return watch.memory().fouling().orElseThrow();
    }

    /** What was stated at the end of an hour, and what was true in the window it stands for. */
    record Hour(UnitFigures figures, List<Truth> truths, OptionalDouble plainUaWPerK, double shownApproachK) {

        Computed<Estimate> of(String key) {
            return figures.result(key).orElseThrow().value();
        }

        double trueUaWPerK() {
            return mean(true);
        }

        double trueFoulingKPerW() {
            return 1 / mean(true) - 1 / mean(false);
        }

        /** The approach that the unit would really have at rated duty with the valve open. */
        double trueApproachAtRatedK() {
            return truths.get(truths.size() - 1).approachAtRatedK();
        }

        private double mean(boolean asIs) {
            Instant from = figures.result("ua").orElseThrow().from();
            List<Truth> inside =
                    truths.stream().filter(t -> !t.at().isBefore(from)).toList();
            return inside.stream()
                    .mapToDouble(t -> asIs ? t.uaWPerK() : t.cleanUaWPerK())
                    .average()
                    .orElseThrow();
        }
    }

    /** The next hour without the truth, which costs more than all else. */
    Hour nextHour() {
        return nextHour(false);
    }

    Hour nextHourWithTruth() {
        return nextHour(true);
    }

    private Hour nextHour(boolean withTruth) {
        for (int i = 0; i < UNWATCHED_STEPS; i++) {
            unit.coarseStep(UNWATCHED_STEP);
        }
        List<Truth> truths = new ArrayList<>();
        double[] sum = new double[points.size()];
        for (int minute = SAMPLED_MINUTES - 1; minute >= 0; minute--) {
            unit.coarseStep(Duration.ofMinutes(1));
            for (int i = 0; i < sum.length; i++) {
                double value = unit.value(points.get(i));
                watch.accept(sample(points.get(i), unit.now(), value));
                sum[i] += value / SAMPLED_MINUTES;
            }
            if (withTruth && minute % TRUTH_EVERY_MINUTES == 0) {
                truths.add(unit.truth());
            }
        }
        return new Hour(watch.evaluate(unit.now()), truths, plainUa(sum), sum[0] - sum[2]);
    }

    static Sample sample(PointName point, Instant at, double value) {
        return new Sample(point, at, RawValue.of(value), Conversion.none(point.quantity()), Quality.GOOD);
    }

    /** UA as a spreadsheet has it: TCS duty over log mean difference of the readings as they are. */
    private static OptionalDouble plainUa(double[] mean) {
        double duty = ABOUT_WATER_J_PER_M3K * mean[4] * (mean[1] - mean[0]);
        return Conductance.byLogMeanWPerK(duty, mean[1], mean[0], mean[2], mean[3])
                .fold(OptionalDouble::of, gap -> OptionalDouble.empty());
    }
}
