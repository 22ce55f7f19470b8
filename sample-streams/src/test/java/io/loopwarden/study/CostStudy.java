package io.loopwarden.study;

import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.virtual.VirtualUnit;
import io.loopwarden.watch.UnitWatch;
import java.lang.management.ManagementFactory;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Random;

/** What the figures cost: one evaluation, and a year of rows in replay, in time of one core. */
final class CostStudy {

    private static final int EVALUATE_EVERY_MINUTES = 15;
    private static final int MINUTES_A_YEAR = 365 * 1440;
    private static final int EVALUATIONS = 4000;

    private static final int GROWS_AFTER_DAYS = 6;
    private static final double ASYMPTOTE_SHARE = 0.2;
    private static final double TIME_CONSTANT_DAYS = 60;

    private final TrialUnits units;

    CostStudy(TrialUnits units) {
        this.units = units;
    }

    List<Finding> run(long seed, int days) {
        TrialUnits.Trial trial = units.anywhere(new Random(seed));
        VirtualUnit unit = new VirtualUnit(trial.spec(), TrialUnits.START);
        // growth towards an asymptote is the form whose forecast costs most
        double cleanM2KPerW = unit.spec().plant().plateAreaM2() / unit.truth().cleanUaWPerK();
        unit.addFault(TrialUnits.asymptotic(
                TrialUnits.START.plus(Duration.ofDays(GROWS_AFTER_DAYS)),
                ASYMPTOTE_SHARE * cleanM2KPerW,
                TIME_CONSTANT_DAYS));
        int rows = days * 1440;
        int width = WatchedUnit.WATCHED.size();
        double[] values = new double[rows * width];
        for (int row = 0; row < rows; row++) {
            unit.coarseStep(Duration.ofMinutes(1));
            for (int i = 0; i < width; i++) {
                values[row * width + i] = unit.value(WatchedUnit.WATCHED.get(i));
            }
        }
        Unit judged = new Unit(new UnitId(unit.id()), "study", "study", trial.nameplate());
        UnitWatch watch = new UnitWatch(judged);
        long began = threadNanos();
        Instant at = TrialUnits.START;
        for (int row = 0; row < rows; row++) {
            at = at.plusSeconds(60);
            for (int i = 0; i < width; i++) {
                Sample sample = WatchedUnit.sample(WatchedUnit.WATCHED.get(i), at, values[row * width + i]);
                watch.accept(sample);
            }
            if (row % EVALUATE_EVERY_MINUTES == 0) {
                watch.evaluate(at);
            }
        }
        double replayS = (threadNanos() - began) * 1e-9 * MINUTES_A_YEAR / rows;
        began = threadNanos();
        for (int i = 0; i < EVALUATIONS; i++) {
            watch.evaluate(at);
        }
        double evaluationUs = (threadNanos() - began) * 1e-3 / EVALUATIONS;
        String scaled = days < 365 ? " (scaled up from " + days + " days)" : "";
        return List.of(
                Finding.of("cost: one evaluation of all indicators", evaluationUs, "us", "<= 50", f -> f <= 50),
                Finding.of("cost: replay of a unit-year of 1-minute rows" + scaled, replayS, "s", "<= 5", f -> f <= 5));
    }

    private static long threadNanos() {
        return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    }
}
