package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;

/** Logarithmic mean of the temperature differences at the two ends of an exchanger. */
public final class LogMean {

    private static final double SERIES_BELOW = 1e-4;

    private LogMean() {}

    /** Log mean difference; symmetric in its arguments, and their common value where they are equal. */
    public static Computed<Double> differenceK(double oneEndK, double otherEndK) {
        double smaller = Math.min(oneEndK, otherEndK);
        double larger = Math.max(oneEndK, otherEndK);
        if (!(smaller > 0 && larger < Double.POSITIVE_INFINITY)) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    "temperature differences at the ends are " + oneEndK + " and " + otherEndK
                            + " K; both must be above 0 (a cross means sensor error or a load too low)");
        }
        // (larger - smaller) / ln(larger / smaller) with larger = smaller (1 + x)
        return Computed.of(smaller / Limits.logarithmicMean((larger - smaller) / smaller));
    }

    /**
     * d ln(log mean) / d(one end), both ends above 0: 1/(a - b) - 1/(a ln(a/b)), which is 1/(2a) where they are equal.
     */
    static double logSlopePerK(double oneEndK, double otherEndK) {
        double x = (oneEndK - otherEndK) / otherEndK;
        if (Math.abs(x) < SERIES_BELOW) {
            // 1/x - 1/((1 + x) ln(1 + x)) for small x, error below x³
            return (0.5 - x * (5.0 / 12 - x * 3.0 / 8)) / otherEndK;
        }
        return (1 / x - 1 / ((1 + x) * Math.log1p(x))) / otherEndK;
    }
}
