package io.loopwarden.study;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.inventory.LeakClass;
import io.loopwarden.inventory.LeakSettings;
import io.loopwarden.inventory.LeakSuspicion;
import io.loopwarden.inventory.LoopPoint;
import io.loopwarden.maintenance.Amount;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.MaintenanceLog;
import io.loopwarden.study.LoopTruth.Conditions;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.UUID;
import java.util.function.ToDoubleFunction;

/** Faults of the level sensor, work that is written down, and holes between the loops. */
final class LeakSituations {

    private static final double DAY_S = 86400;

    private LeakSituations() {}

    static List<Finding> run(long seed, int trials) {
        return List.of(
                never(seed, 41, trials, "leaks called because the level no longer comes", LeakSituations::missing),
                never(
                        seed,
                        42,
                        trials,
                        "leaks called because the level is stuck, loads going on",
                        LeakSituations::stuck),
                never(
                        seed,
                        43,
                        trials,
                        "leaks called because the level is 2 to 8 times as noisy",
                        LeakSituations::noisy),
                share(seed, 44, trials, "a missing level is said", LeakSituations::missingSaid, 100),
                share(seed, 45, trials, "a stuck level is said", LeakSituations::stuckSaid, 100),
                never(seed, 46, trials, "called: 20 L drained, written down before", r -> drain(r, 20, 20, true)),
                never(
                        seed,
                        47,
                        trials,
                        "called: 20 L drained, written down an hour later",
                        r -> drain(r, 20, 20, false)),
                never(seed, 48, trials, "called: 20 L topped up, not written down", LeakSituations::topUp),
                share(
                        seed,
                        49,
                        trials,
                        "called: 60 L drained though 20 L are written down",
                        r -> drain(r, 60, 20, true),
                        100),
                share(
                        seed,
                        50,
                        trials,
                        "called: a leak of 2 L/h after a drain that is written down",
                        LeakSituations::leakAfterDrain,
                        95),
                share(
                        seed,
                        51,
                        trials,
                        "class and direction right: hole between the loops",
                        LeakSituations::pinhole,
                        90));
    }

    private static Finding never(long seed, int group, int trials, String what, ToDoubleFunction<Random> trial) {
        double count = Trials.run(seed, group, trials, trial::applyAsDouble).stream()
                .mapToDouble(d -> d)
                .sum();
        return Finding.of(what + ", of " + trials, count, "", "0", f -> f == 0);
    }

    private static Finding share(
            long seed, int group, int trials, String what, ToDoubleFunction<Random> trial, double least) {
        double share = Trials.run(seed, group, trials, trial::applyAsDouble).stream()
                .mapToDouble(d -> d)
                .average()
                .orElseThrow();
        return Finding.of(what, 100 * share, "%", ">= " + Report.number(least), f -> f >= least);
    }

    private static LeakTrial warm(Random r, List<LoopPoint> points) {
        LeakTrial trial =
                new LeakTrial(new SplittableRandom(r.nextLong()), Conditions.CALM, points, LeakSettings.DEFAULT);
        trial.run(2 * DAY_S + r.nextDouble() * DAY_S, 60);
        return trial;
    }

    /** 1 if a leak is called within that time. */
    private static double called(LeakTrial trial, double seconds, double dt) {
        double called = 0;
        for (double s = 0; s < seconds; s += dt) {
            trial.step(dt);
            called = trial.watch.called() ? 1 : called;
        }
        return called;
    }

    private static double missing(Random r) {
        LeakTrial trial = warm(r, LeakTrial.LEVEL_ONLY);
        trial.silenceLevel();
        return called(trial, DAY_S, 60);
    }

    private static double stuck(Random r) {
        LeakTrial trial = warm(r, LeakTrial.LEVEL_ONLY);
        trial.truth.stuckFor(DAY_S / 2);
        return called(trial, DAY_S, 60);
    }

    private static double noisy(Random r) {
        LeakTrial trial = warm(r, LeakTrial.LEVEL_ONLY);
        double dt = r.nextBoolean() ? 60 : 10;
        trial.run(7200, dt);
        trial.truth.noisyFor(DAY_S / 3, 2 + 6 * r.nextDouble());
        return called(trial, DAY_S / 2, dt);
    }

    private static double missingSaid(Random r) {
        LeakTrial trial = warm(r, LeakTrial.LEVEL_ONLY);
        trial.silenceLevel();
        trial.run(1200, 60);
        LeakSuspicion s = trial.suspicion();
        return says(s, "missing") && !s.contentM3().isAvailable() ? 1 : 0;
    }

    private static double stuckSaid(Random r) {
        LeakTrial trial = warm(r, LeakTrial.LEVEL_ONLY);
        trial.truth.stuckFor(7200);
        trial.run(3600, 60);
        return says(trial.suspicion(), "stuck") ? 1 : 0;
    }

    private static boolean says(LeakSuspicion s, String word) {
        return s.evidence().stream().anyMatch(e -> e.sentence().contains(word));
    }

    private static double topUp(Random r) {
        LeakTrial trial = warm(r, LeakTrial.LEVEL_ONLY);
        pour(trial, 20);
        return called(trial, DAY_S, 60);
    }

    /** Ten minutes of work. */
    private static double pour(LeakTrial trial, double litres) {
        trial.truth.pour(litres / 600);
        double called = called(trial, 600, 60);
        trial.truth.pour(0);
        return called;
    }

    private static double drain(Random r, double drainedL, double writtenL, boolean before) {
        LeakTrial trial = warm(r, LeakTrial.LEVEL_ONLY);
        Instant from = Instant.ofEpochMilli(trial.nowMs());
        MaintenanceLog log = MaintenanceLog.EMPTY.with(entry(from, writtenL));
        if (before) {
            trial.watch.accept(log);
        }
        double called = pour(trial, -drainedL);
        if (!before) {
            trial.run(3600, 60);
            trial.watch.accept(log);
            trial.step(60);
            return called(trial, DAY_S / 2, 60);
        }
        return Math.max(called, called(trial, DAY_S / 2, 60));
    }

    private static double leakAfterDrain(Random r) {
        LeakTrial trial = warm(r, LeakTrial.LEVEL_ONLY);
        Instant from = Instant.ofEpochMilli(trial.nowMs());
        trial.watch.accept(MaintenanceLog.EMPTY.with(entry(from, 20)));
        trial.truth.leak(2);
        pour(trial, -20);
        return called(trial, 4 * 3600, 60);
    }

    private static MaintenanceEntry entry(Instant from, double litres) {
        return new MaintenanceEntry(
                new UUID(1, from.toEpochMilli()),
                new UnitId("study"),
                MaintenanceKind.DRAIN,
                Optional.empty(),
                from,
                from.plusSeconds(600),
                "study",
                from,
                "",
                Optional.of(new Amount(litres, "L")),
                Optional.empty(),
                Optional.empty());
    }

    private static double pinhole(Random r) {
        LeakTrial trial = warm(r, LeakTrial.WITH_PRESSURES);
        trial.truth.pinhole(2);
        trial.run(2 * DAY_S, 60);
        LeakSuspicion s = trial.suspicion();
        LeakClass right = trial.truth.outward() ? LeakClass.INTO_FWS : LeakClass.FROM_FWS;
        return s.likeliest() == right && s.probability() > 0.5 ? 1 : 0;
    }
}
