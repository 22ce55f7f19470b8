package io.loopwarden.statistics;

/**
 * Wald's sequential probability ratio test between two means of normal values with known deviation (Wald, Sequential Analysis, 1947).
 * For one thread.
 */
public final class Sprt {

    public enum Decision {
        NONE_YET,
        /** The first mean. */
        NULL,
        /** The second mean. */
        ALTERNATIVE
    }

    private final double accept;
    private final double reject;
    private double logRatio;

    /**
     * @param falseAlternative α, chance to decide for the second mean though the first holds
     * @param falseNull β, the other way round
     */
    public Sprt(double falseAlternative, double falseNull) {
        if (!(falseAlternative > 0 && falseNull > 0 && falseAlternative + falseNull < 1)) {
            throw new IllegalArgumentException(
                    "error rates " + falseAlternative + " and " + falseNull + " must be > 0, together below 1");
        }
        this.accept = Math.log((1 - falseNull) / falseAlternative);
        this.reject = Math.log(falseNull / (1 - falseAlternative));
    }

    /** Takes a value whose deviation is known; both means hold for this value. */
    public Decision accept(double value, double nullMean, double alternativeMean, double deviation) {
        logRatio +=
                (alternativeMean - nullMean) / (deviation * deviation) * (value - 0.5 * (nullMean + alternativeMean));
        return decision();
    }

    public Decision decision() {
        if (logRatio >= accept) {
            return Decision.ALTERNATIVE;
        }
        return logRatio <= reject ? Decision.NULL : Decision.NONE_YET;
    }

    /** Λ, natural logarithm of the likelihood ratio of the second mean to the first. */
    public double logRatio() {
        return logRatio;
    }

    /** Begins anew, after a decision. */
    public void reset() {
        logRatio = 0;
    }
}
