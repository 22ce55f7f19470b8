package io.loopwarden.inventory;

import java.util.Arrays;
import java.util.List;

/**
 * Kalman filter of the coolant in a loop, in litres: what is in it at reference temperature, how much of the loop follows supply and
 * return temperature, and how far the level gives way to the pumps. For one thread.
 */
final class LoopFilter {

    static final int CONTENT = 0;
    static final int STATES = 4;

    private final double[] state = new double[STATES];
    private final double[] covariance = new double[STATES * STATES];
    private final double[] gain = new double[STATES];
    private final double[] projected = new double[STATES];
    private double innovation;
    private double variance;

    LoopFilter(double[] means, double[] deviations) {
        for (int i = 0; i < STATES; i++) {
            state[i] = means[i];
            covariance[i * STATES + i] = deviations[i] * deviations[i];
        }
    }

    double state(int i) {
        return state[i];
    }

    double deviation(int i) {
        return Math.sqrt(covariance[i * STATES + i]);
    }

    /** Time goes by: the content may wander, what was learnt grows a little older. */
    void predict(double contentVariance, double learntVariance) {
        covariance[0] += contentVariance;
        for (int i = 1; i < STATES; i++) {
            covariance[i * STATES + i] += learntVariance;
        }
    }

    /** Nothing is known of the content any more; what was learnt stays. */
    void anchor(double content, double deviation) {
        state[CONTENT] = content;
        for (int i = 1; i < STATES; i++) {
            covariance[i] = 0;
            covariance[i * STATES] = 0;
        }
        covariance[0] = deviation * deviation;
    }

    /**
     * Compares an observation with what is expected; nothing is learnt yet.
     *
     * @param contentOnly coefficients must not follow: a loss would be learnt as one
     */
    void look(double observed, double[] sensitivities, double noiseVariance, boolean contentOnly) {
        double expected = 0;
        variance = noiseVariance;
        for (int i = 0; i < STATES; i++) {
            expected += sensitivities[i] * state[i];
            double sum = 0;
            for (int j = 0; j < STATES; j++) {
                sum += covariance[i * STATES + j] * sensitivities[j];
            }
            projected[i] = sum;
            variance += sensitivities[i] * sum;
        }
        innovation = observed - expected;
        for (int i = 0; i < STATES; i++) {
            gain[i] = contentOnly && i != CONTENT ? 0 : projected[i] / variance;
        }
    }

    double innovation() {
        return innovation;
    }

    double variance() {
        return variance;
    }

    /** To be made smaller before {@link #learn} where an observation is not to be believed in full. */
    double[] gain() {
        return gain;
    }

    /** Learns from the observation looked at last, with the gain as it is then. */
    void learn() {
        for (int i = 0; i < STATES; i++) {
            state[i] += gain[i] * innovation;
        }
        // Joseph's form for any gain: P − K·p' − p·K' + S·K·K'
        for (int i = 0; i < STATES; i++) {
            for (int j = 0; j < STATES; j++) {
                covariance[i * STATES + j] +=
                        -gain[i] * projected[j] - projected[i] * gain[j] + variance * gain[i] * gain[j];
            }
        }
    }

    LeakMemory.FilterState memory(double[] sensitivities, double scale) {
        return new LeakMemory.FilterState(boxed(state), boxed(covariance), boxed(sensitivities), scale);
    }

    private static List<Double> boxed(double[] values) {
        return Arrays.stream(values).boxed().toList();
    }

    static LoopFilter of(LeakMemory.FilterState remembered) {
        LoopFilter filter = new LoopFilter(new double[STATES], new double[STATES]);
        for (int i = 0; i < STATES; i++) {
            filter.state[i] = remembered.means().get(i);
        }
        for (int i = 0; i < STATES * STATES; i++) {
            filter.covariance[i] = remembered.covariances().get(i);
        }
        return filter;
    }
}
