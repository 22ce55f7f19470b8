package io.loopwarden.exchanger;

import io.loopwarden.statistics.Covariance;
import java.time.Instant;
import java.util.List;

/**
 * Means of one steady window around the exchanger.
 *
 * @param scatter standard uncertainty of each mean by scatter alone, in the order of {@link ExchangerState#QUANTITIES}
 *     without the heat capacities; what does not change between windows is an offset and not in it
 */
public record SteadyState(Instant from, Instant to, ExchangerState measured, List<Double> scatter) {

    static final int MEASURED = ExchangerState.HOT_CAPACITY;

    public SteadyState {
        scatter = List.copyOf(scatter);
        if (scatter.size() != MEASURED) {
            throw new IllegalArgumentException("scatter of " + scatter.size() + " means, must be " + MEASURED);
        }
        if (to.isBefore(from)) {
            throw new IllegalArgumentException("window from " + from + " to " + to);
        }
    }

    Covariance noise() {
        double[] u = new double[ExchangerState.SIZE];
        for (int i = 0; i < MEASURED; i++) {
            u[i] = scatter.get(i);
        }
        return Covariance.independent(u);
    }

    CleanLearning.Window window() {
        return new CleanLearning.Window(measured, noise());
    }
}
