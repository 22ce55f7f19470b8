package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;

/** Logarithmic mean of the temperature differences at the two ends of an exchanger. */
public final class LogMean {

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
}
