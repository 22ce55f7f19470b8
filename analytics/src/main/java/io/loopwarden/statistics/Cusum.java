package io.loopwarden.statistics;

/**
 * Page's cumulative sum on one side, C = max(0, C + z − k), of values in standard deviations; signals above a limit (Page, Biometrika
 * 41, 1954). For one thread.
 */
public final class Cusum {

    /** Siegmund's correction for the overshoot, on both boundaries together. */
    private static final double OVERSHOOT = 1.166;

    private final double reference;
    private final double limit;
    private double sum;

    /**
     * @param reference k, half the shift that matters, in standard deviations
     * @param limit h
     */
    public Cusum(double reference, double limit) {
        if (!(reference > 0) || !(limit > 0) || Double.isInfinite(reference + limit)) {
            throw new IllegalArgumentException("reference " + reference + " and limit " + limit + " must be > 0");
        }
        this.reference = reference;
        this.limit = limit;
    }

    /** A sum that signals by chance once in so many independent values on average. */
    public static Cusum forInterval(double reference, double valuesBetweenFalseSignals) {
        return new Cusum(reference, limitFor(reference, valuesBetweenFalseSignals));
    }

    /** Takes a value; true while the sum is above its limit. */
    public boolean accept(double z) {
        sum = Math.max(0, sum + z - reference);
        return isAbove();
    }

    public boolean isAbove() {
        return sum > limit;
    }

    public double sum() {
        return sum;
    }

    public double limit() {
        return limit;
    }

    public void reset() {
        sum = 0;
    }

    /** h for a wanted average run length without a shift: Siegmund (Sequential Analysis, 1985, eq. 2.57) solved for h. */
    public static double limitFor(double reference, double valuesBetweenFalseSignals) {
        double low = 0.01;
        double high = 1000;
        for (int i = 0; i < 100; i++) {
            double middle = 0.5 * (low + high);
            if (runLength(middle, reference, 0) < valuesBetweenFalseSignals) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return 0.5 * (low + high);
    }

    /** Siegmund's approximation of the average run length at a shift of the mean, in standard deviations. */
    public static double runLength(double limit, double reference, double shift) {
        double drift = shift - reference;
        double b = limit + OVERSHOOT;
        return Math.abs(drift) < 1e-9 ? b * b : (Math.exp(-2 * drift * b) + 2 * drift * b - 1) / (2 * drift * drift);
    }
}
