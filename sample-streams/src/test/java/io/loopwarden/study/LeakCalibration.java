package io.loopwarden.study;

import io.loopwarden.inventory.LeakSettings;
import io.loopwarden.study.LoopTruth.Conditions;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;

/**
 * Whether leaks are as frequent as the stated probability says. Everything happens a few hundred times as often as in the default
 * settings, and the watch is told so: a probability is one among the units it is told about.
 */
final class LeakCalibration {

    private static final double WINDOW_H = 72;
    private static final double HOURS_A_YEAR = 8766;
    private static final double LEAST_L_PER_H = 0.03;
    private static final double MOST_L_PER_H = 100;
    private static final LeakSettings SETTINGS =
            new LeakSettings(100, 20, 2.5e-5, 4e-5, 0.002, 0.1, 60, 1e-6, 30, 15, 15, LEAST_L_PER_H, MOST_L_PER_H);
    private static final double REACHES_TRAY = 0.6;
    private static final int BINS = 10;
    private static final double STEP_S = 60;

    private LeakCalibration() {}

    private record Said(double probability, boolean leaks) {}

    static List<Finding> run(long seed, int trials) {
        List<Said> said = Trials.run(seed, 31, trials, LeakCalibration::trial);
        List<Finding> findings = new ArrayList<>();
        double brier = said.stream()
                .mapToDouble(s -> Math.pow(s.probability - (s.leaks ? 1 : 0), 2))
                .average()
                .orElseThrow();
        double base = said.stream().mapToDouble(s -> s.leaks ? 1 : 0).average().orElseThrow();
        double error = 0;
        for (int b = 0; b < BINS; b++) {
            int bin = b;
            List<Said> in = said.stream()
                    .filter(s -> Math.min(BINS - 1, (int) (s.probability * BINS)) == bin)
                    .toList();
            if (in.isEmpty()) {
                continue;
            }
            double mean = in.stream().mapToDouble(Said::probability).average().orElseThrow();
            double share =
                    in.stream().mapToDouble(s -> s.leaks ? 1 : 0).average().orElseThrow();
            error += Math.abs(mean - share) * in.size() / said.size();
            findings.add(Finding.told(
                    String.format(
                            "    said %3d to %3d %%, %d times, on average %.1f %%: leaks",
                            10 * b, 10 * b + 10, in.size(), 100 * mean),
                    100 * share,
                    "%"));
        }
        List<Finding> all = new ArrayList<>();
        all.add(Finding.of("calibration: expected calibration error, 10 bins", error, "1", "<= 0.05", f -> f <= 0.05));
        all.add(Finding.told("    Brier score", brier, "1"));
        all.add(Finding.told("    Brier score of always saying the mean", base * (1 - base), "1"));
        all.addAll(findings);
        return all;
    }

    private static Said trial(Random r) {
        LeakTrial trial =
                new LeakTrial(new SplittableRandom(r.nextLong()), Conditions.CALM, LeakTrial.WITH_TRAY, SETTINGS);
        trial.run(72 * 3600, STEP_S);
        double leakS = onset(r, SETTINGS.lossesPerYear());
        double driftS = onset(r, SETTINGS.sensorDriftsPerYear());
        double jumpS = onset(r, SETTINGS.jumpsPerYear());
        double wetS = onset(r, SETTINGS.falseWetsPerYear());
        double rate = logUniform(r, LEAST_L_PER_H, MOST_L_PER_H);
        double driftRate = logUniform(r, LEAST_L_PER_H, MOST_L_PER_H);
        double jumpL = logUniform(r, 0.3, 40) * (r.nextBoolean() ? 1 : -1);
        trial.truth.leakReachesTray(r.nextDouble() < REACHES_TRAY);
        for (double s = 0; s < WINDOW_H * 3600; s += STEP_S) {
            if (s <= leakS && leakS < s + STEP_S) {
                trial.truth.leak(rate);
            }
            if (s <= driftS && driftS < s + STEP_S) {
                trial.truth.sensorDrift(driftRate);
            }
            if (s <= wetS && wetS < s + STEP_S) {
                trial.truth.falseWet();
            }
            boolean jumps = s <= jumpS && jumpS < s + STEP_S;
            trial.truth.pour(jumps ? jumpL / STEP_S : 0);
            trial.step(STEP_S);
        }
        return new Said(trial.suspicion().probability(), leakS < WINDOW_H * 3600);
    }

    /** Seconds until something that happens so often. */
    private static double onset(Random r, double perYear) {
        return -Math.log(1 - r.nextDouble()) * HOURS_A_YEAR / perYear * 3600;
    }

    private static double logUniform(Random r, double least, double most) {
        return least * Math.exp(r.nextDouble() * Math.log(most / least));
    }
}
