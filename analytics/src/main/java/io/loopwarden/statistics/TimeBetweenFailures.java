package io.loopwarden.statistics;

import java.util.OptionalDouble;
import org.hipparchus.distribution.continuous.GammaDistribution;

/**
 * Mean time between failures of repaired parts with a constant failure rate, and its bounds by the chi-square distribution
 * (NIST/SEMATECH e-Handbook, section 8.4.5.1).
 *
 * @param mean operating time over failures; empty without a failure
 * @param lower with so much confidence it is longer
 * @param upper with so much confidence it is shorter; empty without a failure
 */
public record TimeBetweenFailures(OptionalDouble mean, double lower, OptionalDouble upper) {

    /**
     * @param operating time in operation, in any unit, which the result has too
     * @param confidence that the truth lies between both bounds, for example 0.9; without a failure it is that of the lower one
     */
    public static TimeBetweenFailures of(double operating, long failures, double confidence) {
        if (!(operating >= 0) || failures < 0 || !(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException(
                    operating + " of operation, " + failures + " failures, confidence " + confidence);
        }
        if (failures == 0) {
            return new TimeBetweenFailures(
                    OptionalDouble.empty(), operating / -Math.log(1 - confidence), OptionalDouble.empty());
        }
        double tail = (1 - confidence) / 2;
        return new TimeBetweenFailures(
                OptionalDouble.of(operating / failures),
                2 * operating / chiSquare(1 - tail, 2 * (failures + 1)),
                OptionalDouble.of(2 * operating / chiSquare(tail, 2 * failures)));
    }

    /** A chi-square distribution is a gamma distribution of half its freedom and scale 2. */
    private static double chiSquare(double probability, long freedom) {
        return new GammaDistribution(freedom / 2.0, 2).inverseCumulativeProbability(probability);
    }
}
