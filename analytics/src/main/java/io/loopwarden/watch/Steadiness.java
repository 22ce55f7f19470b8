package io.loopwarden.watch;

/**
 * Whether a point stood still over a window. It moved if it drifted, swung slowly or jumped by more than a limit, and by
 * more than its own noise explains; noise alone, a coarse resolution or a constant value are steady.
 */
final class Steadiness {

    /** Least slope over its standard error for a drift to be real. */
    private static final double SIGNIFICANT_SLOPE = 4;

    /** The noise of a bin raises the limit once it is larger than this share of it. */
    private static final double NOISE_FACTOR = 3;

    /** Range over the noise of one bin: ninety normal values reach 7 once in 10,000 windows. */
    private static final double SIGNIFICANT_RANGE = 7;

    /** One-sided 99.9 % point of the normal distribution. */
    private static final double Z_999 = 3.09;

    private static final double LEAST_NEUMANN_RATIO = 0.2;

    private Steadiness() {}

    /** By how much the point moved, in its own unit; 0 if it stood still. */
    static double movement(WindowStatistics s, double floor) {
        double limit = limit(s, floor);
        if (Math.abs(s.drift()) > limit && s.driftSignificance() > SIGNIFICANT_SLOPE) {
            return Math.abs(s.drift());
        }
        boolean swings = s.deviation() > limit / 2 && s.ratioOfVariances() > significantRatio(s.present());
        boolean jumps = s.range() > 2 * limit && s.range() > SIGNIFICANT_RANGE * s.binNoise();
        return swings || jumps ? s.range() : 0;
    }

    static double limit(WindowStatistics s, double floor) {
        return Math.max(floor, NOISE_FACTOR * s.binNoise());
    }

    /**
     * Ratio of variances that white noise exceeds once in a thousand windows: von Neumann's ratio 2/R is about normal with mean 2
     * and variance 4(n - 2)/(n² - 1).
     */
    private static double significantRatio(int n) {
        double spread = 2 * Math.sqrt((n - 2.0) / ((double) n * n - 1));
        return 2 / Math.max(LEAST_NEUMANN_RATIO, 2 - Z_999 * spread);
    }
}
