package io.loopwarden.statistics;

import java.util.List;
import java.util.Random;
import org.hipparchus.distribution.continuous.TDistribution;

/**
 * Series as they might have been, by moving blocks of residuals (Künsch 1989), since residuals of neighbouring days are alike, and
 * with the errors that all values share.
 */
final class BlockBootstrap {

    /** Of neighbouring residuals; beyond it a trend cannot be told from wandering. */
    private static final double MOST_LIKENESS = 0.8;

    private final double[] fitted;
    private final double[] residuals;
    private final List<double[]> sharedErrors;
    private final int block;

    /** @param parameters that the fit has used up */
    BlockBootstrap(double[] y, double[] fitted, int parameters, List<double[]> sharedErrors) {
        this.fitted = fitted;
        this.sharedErrors = sharedErrors;
        int n = y.length;
        block = Math.max(2, (int) Math.round(Math.cbrt(n)));
        residuals = new double[n];
        for (int i = 0; i < n; i++) {
            residuals[i] = y[i] - fitted[i];
        }
        double widening = widening(residuals, parameters, block);
        for (int i = 0; i < n; i++) {
            residuals[i] *= widening;
        }
    }

    /** One more series, into an array of the caller's. */
    void draw(double[] sample, Random random) {
        int n = sample.length;
        for (int start = 0; start < n; start += block) {
            int from = random.nextInt(n - block + 1);
            for (int i = 0; i < block && start + i < n; i++) {
                sample[start + i] = fitted[start + i] + residuals[from + i];
            }
        }
        for (double[] error : sharedErrors) {
            double deviations = random.nextGaussian();
            for (int i = 0; i < n; i++) {
                sample[i] += deviations * error[i];
            }
        }
    }

    /**
     * What the residuals of a short series lack: the parameters that the fit has used up, and the likeness of neighbours
     * that blocks cut off, taken as that of a first order process (its correlation corrected for bias, Kendall 1954),
     * and Student's allowance for having estimated the scatter from few independent values.
     */
    static double widening(double[] residuals, int parameters, int block) {
        int n = residuals.length;
        double lagged = 0;
        double square = 0;
        for (int i = 0; i < n; i++) {
            square += residuals[i] * residuals[i];
            lagged += i > 0 ? residuals[i] * residuals[i - 1] : 0;
        }
        double raw = square > 0 ? lagged / square : 0;
        double likeness = Math.min(MOST_LIKENESS, Math.max(0, raw + (2 + 4 * raw) / n));
        double longRun = (1 + likeness) / (1 - likeness);
        double inBlocks = 1;
        for (int k = 1; k < block; k++) {
            inBlocks += 2 * (1 - (double) k / block) * Math.pow(likeness, k);
        }
        double freedom = Math.max(2, n / longRun - parameters);
        return student(freedom) * Math.sqrt(n / freedom / inBlocks);
    }

    /** Student's over the normal 95 % half-width. */
    static double student(double freedom) {
        return new TDistribution(freedom).inverseCumulativeProbability(0.975) / Estimate.K95;
    }
}
