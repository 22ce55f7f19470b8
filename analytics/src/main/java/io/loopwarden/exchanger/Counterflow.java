package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;

/**
 * Effectiveness and NTU of a counterflow exchanger (Incropera et al., <i>Fundamentals of Heat and Mass Transfer</i>,
 * tables 11.3 and 11.4), rearranged so that equal capacity rates need no branch.
 */
public final class Counterflow {

    private Counterflow() {}

    /**
     * Heat moved over the most that could be moved.
     *
     * @param ntu UA over the smaller capacity rate, ≥ 0
     * @param capacityRatio smaller over larger capacity rate, 0 to 1
     */
    public static double effectivenessRatio(double ntu, double capacityRatio) {
        if (!(ntu >= 0) || Double.isInfinite(ntu)) {
            throw new IllegalArgumentException("NTU is " + ntu + ", must be finite and >= 0");
        }
        requireRatio(capacityRatio);
        double lift = ntu * Limits.exponentialMean(ntu * (1 - capacityRatio));
        return lift / (1 + capacityRatio * lift);
    }

    /** NTU that gives an effectiveness; no exchanger reaches 1, so 1 and more come from measurement error. */
    public static Computed<Double> ntu(double effectivenessRatio, double capacityRatio) {
        requireRatio(capacityRatio);
        if (!(effectivenessRatio >= 0 && effectivenessRatio < 1)) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    "effectiveness is " + effectivenessRatio + "; a counterflow exchanger has 0 to below 1");
        }
        double odds = effectivenessRatio / (1 - effectivenessRatio);
        return Computed.of(odds * Limits.logarithmicMean(odds * (1 - capacityRatio)));
    }

    /** dε/dNTU = (1 - C)² E / (1 - C E)² with E = exp(-NTU (1 - C)), which is 1/(1 + NTU)² at C = 1. */
    public static double effectivenessPerNtu(double ntu, double capacityRatio) {
        double loss = ntu * (1 - capacityRatio);
        double lift = ntu * Limits.exponentialMean(loss);
        double denominator = 1 + capacityRatio * lift;
        return Math.exp(-loss) / (denominator * denominator);
    }

    private static void requireRatio(double capacityRatio) {
        if (!(capacityRatio >= 0 && capacityRatio <= 1)) {
            throw new IllegalArgumentException("capacity ratio is " + capacityRatio + ", must be 0 to 1");
        }
    }
}
