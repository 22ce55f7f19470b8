package io.loopwarden.inventory;

import java.util.List;

/** What a level sensor does of its own: noise, step of its values, and whether it still follows. For one thread. */
final class LevelSensor {

    private static final double LEARNING = 1.0 / 500;
    private static final double FOLLOWING = 1.0 / 60;
    private static final double FEW = 10;
    private static final int RECENT = 24;
    private static final int QUICK = 8;
    /** Scatter of the recent values above this, relative to what was learnt, is believed; of the few latest above the second. */
    private static final double RECENT_RATIO2 = 1.6;

    private static final double QUICK_RATIO2 = 2.5;
    /** A difference counts for at most so many variances, so that a jump is not taken for noise. */
    private static final double MOST_SQUARED = 16;

    private static final double BY_CHANCE = 1e-6;
    private static final int LEAST_EQUAL = 4;
    private static final double SELDOM = 0.5;
    /** Where values repeat more often than this anyway, a run of equal ones says nothing. */
    private static final double MOST_EQUAL_SHARE = 0.9;

    private double varianceRatio2;
    private double followedRatio2;
    private double stepRatio;
    private double equalShare;
    private int values;
    private double last;
    private int equal;
    private boolean stuck;
    private final double[] recent = new double[RECENT];
    private double lastDifference;

    LevelSensor(double noiseRatio) {
        varianceRatio2 = noiseRatio * noiseRatio;
        followedRatio2 = varianceRatio2;
        equalShare = 0.5;
    }

    /** Takes a minute's values in time order. */
    void accept(List<Double> levels) {
        for (double value : levels) {
            if (values > 0) {
                take(value - last);
            }
            values++;
            last = value;
        }
    }

    private void take(double difference) {
        double second = difference - lastDifference;
        recent[values % RECENT] = second;
        lastDifference = difference;
        if (difference == 0) {
            equal++;
            stuck = stuck
                    || equalShare < MOST_EQUAL_SHARE
                            && equal >= LEAST_EQUAL
                            && equal * Math.log(equalShare) < Math.log(BY_CHANCE);
        } else {
            equal = 0;
            stuck = false;
            double size = Math.abs(difference);
            stepRatio = stepRatio == 0 ? size : Math.min(stepRatio, size);
        }
        if (!stuck) {
            // a run that ends up stuck must not be learnt as the sensor's way
            double weight = 1.0 / (values + FEW);
            double most = MOST_SQUARED * variance();
            double squared = Math.min(second * second / 6, most);
            varianceRatio2 += Math.max(LEARNING, weight) * (squared - varianceRatio2);
            followedRatio2 += Math.max(FOLLOWING, weight) * (squared - followedRatio2);
            equalShare += Math.max(FOLLOWING, weight) * ((equal > 0 ? 1 : 0) - equalShare);
            equalShare = Math.min(0.999, Math.max(0.01, equalShare));
        }
    }

    boolean stuck() {
        return stuck;
    }

    /** Variance of one value, slowly learnt or as it grew within an hour of values; never less than its step leaves. */
    double variance() {
        return Math.max(Math.max(varianceRatio2, followedRatio2), stepRatio * stepRatio / 12);
    }

    double noise() {
        return Math.sqrt(variance());
    }

    /**
     * Variance of one value as the latest ones show it, where that is far more than what was learnt. Second differences: a level that
     * falls evenly adds nothing to them.
     */
    double presentVariance() {
        double learnt = variance();
        double now = recentVariance(RECENT);
        double quick = recentVariance(QUICK);
        double believed = now > RECENT_RATIO2 * learnt ? now : learnt;
        return quick > QUICK_RATIO2 * learnt ? Math.max(quick, believed) : believed;
    }

    private double recentVariance(int latest) {
        double sum = 0;
        for (int i = 1; i <= latest; i++) {
            double second = recent[Math.floorMod(values - i, RECENT)];
            sum += second * second;
        }
        return sum / (6 * latest);
    }

    /** The last value repeats the one before, which is seldom: it may be stuck and is no news. */
    boolean repeats() {
        return equal >= 2 && equalShare < SELDOM;
    }

    double learntNoiseRatio() {
        return Math.sqrt(varianceRatio2);
    }

    double stepRatio() {
        return stepRatio;
    }

    void restore(double noiseRatio, double step) {
        varianceRatio2 = noiseRatio * noiseRatio;
        followedRatio2 = varianceRatio2;
        stepRatio = step;
    }
}
