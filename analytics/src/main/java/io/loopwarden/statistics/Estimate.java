package io.loopwarden.statistics;

/**
 * A value with its standard uncertainty (JCGM 100:2008, 2.3.1), both in the unit that the holder names.
 *
 * @param value finite
 * @param standardUncertainty finite, not negative
 */
public record Estimate(double value, double standardUncertainty) {

    /** Coverage factor for 95 % under a normal distribution. */
    public static final double K95 = 1.959963984540054;

    public Estimate {
        if (!Double.isFinite(value)) {
            throw new NotFiniteException("value is not finite: " + value);
        }
        if (!Double.isFinite(standardUncertainty)) {
            throw new NotFiniteException("standard uncertainty is not finite: " + standardUncertainty);
        }
        if (standardUncertainty < 0) {
            throw new IllegalArgumentException("standard uncertainty is negative: " + standardUncertainty);
        }
    }

    public double lower95() {
        return value - K95 * standardUncertainty;
    }

    public double upper95() {
        return value + K95 * standardUncertainty;
    }
}
