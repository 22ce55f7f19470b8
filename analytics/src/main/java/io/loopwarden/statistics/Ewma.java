package io.loopwarden.statistics;

/**
 * An exponentially weighted mean of values in standard deviations, Z = λ·z + (1 − λ)·Z, with limits ± L·√(λ/(2 − λ)) (Lucas and
 * Saccucci, Technometrics 32, 1990). For one thread.
 */
public final class Ewma {

    private final double weight;
    private final double limit;
    private double mean;

    /**
     * @param weight λ, above 0 to 1
     * @param width L, in standard deviations of the mean
     */
    public Ewma(double weight, double width) {
        if (!(weight > 0 && weight <= 1) || !(width > 0)) {
            throw new IllegalArgumentException("weight " + weight + " must be above 0 to 1, width " + width + " > 0");
        }
        this.weight = weight;
        this.limit = width * Math.sqrt(weight / (2 - weight));
    }

    /** Takes a value; true while the mean is outside its limits. */
    public boolean accept(double z) {
        mean += weight * (z - mean);
        return isOutside();
    }

    public boolean isOutside() {
        return Math.abs(mean) > limit;
    }

    public double mean() {
        return mean;
    }

    /** The mean in standard deviations of its own. */
    public double standardised() {
        return mean / Math.sqrt(weight / (2 - weight));
    }
}
