package io.loopwarden.study;

import io.loopwarden.statistics.Cusum;
import io.loopwarden.statistics.Ewma;
import io.loopwarden.statistics.Sprt;
import io.loopwarden.statistics.Sprt.Decision;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoublePredicate;
import java.util.function.Supplier;

/** Average run lengths of the tests by simulation, against published tables, and the error rates of Wald's test against his bounds. */
final class RunLengths {

    /** Montgomery, Introduction to Statistical Quality Control, table 9.3: two-sided, k = 0.5; shift, h = 4, h = 5. */
    private static final double[][] CUSUM = {
        {0, 168, 465},
        {0.25, 74.2, 139},
        {0.5, 26.6, 38.0},
        {0.75, 13.3, 17.0},
        {1, 8.38, 10.4},
        {1.5, 4.75, 5.75},
        {2, 3.34, 4.01},
        {3, 2.19, 2.57},
        {4, 1.71, 2.01}
    };

    /** Lucas and Saccucci 1990, as in Montgomery's table 9.11: λ, L, then run lengths at shifts 0, 0.5, 1, 2, 3. */
    private static final double[][] EWMA = {
        {0.40, 3.054, 500, 71.2, 14.3, 3.5, 2.0},
        {0.20, 2.962, 500, 41.8, 10.5, 3.7, 2.4},
        {0.10, 2.814, 500, 31.3, 10.3, 4.4, 2.9},
        {0.05, 2.615, 500, 28.8, 11.4, 5.2, 3.5}
    };

    private static final double[] SHIFTS = {0, 0.5, 1, 2, 3};

    private RunLengths() {}

    static List<Finding> run(long seed, int runs) {
        SplittableRandom random = new SplittableRandom(seed);
        double cusum = 0;
        for (double[] row : CUSUM) {
            for (int column = 1; column <= 2; column++) {
                double limit = column + 3;
                double found = mean(random, runs, row[0], () -> twoSided(limit));
                cusum = Math.max(cusum, Math.abs(found / row[column] - 1));
            }
        }
        double ewma = 0;
        for (double[] row : EWMA) {
            for (int i = 0; i < SHIFTS.length; i++) {
                double found = mean(random, runs, SHIFTS[i], () -> new Ewma(row[0], row[1])::accept);
                ewma = Math.max(ewma, Math.abs(found / row[i + 2] - 1));
            }
        }
        List<Finding> findings = new ArrayList<>();
        findings.add(Finding.of(
                "CUSUM: worst deviation from 18 published run lengths", 100 * cusum, "%", "<= 5", f -> f <= 5));
        findings.add(Finding.of(
                "EWMA: worst deviation from 20 published run lengths", 100 * ewma, "%", "<= 5", f -> f <= 5));
        wald(random, runs, findings);
        return findings;
    }

    private static DoublePredicate twoSided(double limit) {
        Cusum up = new Cusum(0.5, limit);
        Cusum down = new Cusum(0.5, limit);
        return z -> up.accept(z) | down.accept(-z);
    }

    private static double mean(SplittableRandom random, int runs, double shift, Supplier<DoublePredicate> chart) {
        double sum = 0;
        for (int i = 0; i < runs; i++) {
            DoublePredicate signals = chart.get();
            int n = 1;
            while (!signals.test(shift + random.nextGaussian())) {
                n++;
            }
            sum += n;
        }
        return sum / runs;
    }

    /** Wald, Sequential Analysis, 1947: α' ≤ α/(1 − β) and β' ≤ β/(1 − α), and about half the samples of a fixed test. */
    private static void wald(SplittableRandom random, int runs, List<Finding> findings) {
        double alpha = 0.01;
        double beta = 0.05;
        double falseAlternative = share(random, runs, alpha, beta, 0, Decision.ALTERNATIVE);
        double falseNull = share(random, runs, alpha, beta, 1, Decision.NULL);
        findings.add(Finding.of(
                "SPRT: false alternatives over Wald's bound, alpha = 1 %",
                falseAlternative / (alpha / (1 - beta)), "1", "<= 1", f -> f <= 1));
        findings.add(Finding.of(
                "SPRT: false nulls over Wald's bound, beta = 5 %",
                falseNull / (beta / (1 - alpha)), "1", "<= 1", f -> f <= 1));
    }

    private static double share(
            SplittableRandom random, int runs, double alpha, double beta, double mean, Decision counted) {
        int count = 0;
        for (int i = 0; i < runs; i++) {
            Sprt test = new Sprt(alpha, beta);
            Decision decision = Decision.NONE_YET;
            while (decision == Decision.NONE_YET) {
                decision = test.accept(mean + random.nextGaussian(), 0, 1, 1);
            }
            count += decision == counted ? 1 : 0;
        }
        return (double) count / runs;
    }
}
