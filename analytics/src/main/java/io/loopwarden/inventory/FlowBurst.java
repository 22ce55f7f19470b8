package io.loopwarden.inventory;

import io.loopwarden.statistics.Cusum;

/** The imbalance of the two flow meters second by second, with Page's sum; bursts only, since meters wander. For one thread. */
final class FlowBurst {

    private static final double REFERENCE = 1.5;
    private static final double MOST_Z = 6;
    private static final double LEARNING = 1.0 / 300;
    private static final int LEARNT = 120;
    private static final double LEAST_DEVIATION = 1e-3;
    private static final double LITRES_PER_H = 3.6e6;
    private static final double MOST_SQUARED = 16;

    private final Cusum sum;
    private double variance = 1e-5;
    private double last;
    private double lastDifference;
    private int values;
    private double shifted;
    private double weights;
    private int since;

    FlowBurst(double falseBurstYears) {
        sum = Cusum.forInterval(REFERENCE, falseBurstYears * 8766 * 3600);
    }

    /**
     * Takes the imbalance of one second beyond what is usual, relative to the flow; true if the sum is above its limit.
     */
    boolean accept(double imbalance, double flowM3PerS) {
        double difference = imbalance - last;
        double second = difference - lastDifference;
        last = imbalance;
        lastDifference = difference;
        values++;
        if (values > 2) {
            double squared = Math.min(second * second / 6, MOST_SQUARED * variance);
            variance += Math.max(LEARNING, 1.0 / values) * (squared - variance);
        }
        if (values < LEARNT) {
            return false;
        }
        double z = imbalance / deviation();
        boolean above = sum.accept(Math.max(-MOST_Z, Math.min(MOST_Z, z)));
        since = sum.sum() > 0 ? since + 1 : 0;
        shifted = sum.sum() > 0 ? shifted + imbalance * flowM3PerS * LITRES_PER_H : 0;
        weights = deviation() * flowM3PerS * LITRES_PER_H;
        return above;
    }

    private double deviation() {
        return Math.max(LEAST_DEVIATION, Math.sqrt(variance));
    }

    void reset() {
        sum.reset();
        since = 0;
        shifted = 0;
    }

    /** Seconds since the sum left nought. */
    int sinceS() {
        return since;
    }

    double rateLPerH() {
        return shifted / Math.max(1, since);
    }

    double rateUncertaintyLPerH() {
        return weights / Math.sqrt(Math.max(1, since));
    }
}
