package io.loopwarden.indicator;

import io.loopwarden.statistics.Estimate;
import java.util.Optional;

/** First-order propagation of independent standard uncertainties (JCGM 100:2008, 5.1.2), sensitivities by central differences. */
final class Propagation {

    /**
     * Step to either side of an input, in its standard uncertainties. So small that the sensitivity is first-order, as the law asks,
     * and far above rounding.
     */
    static final double STEP = 1.0 / 64;

    private final double value;
    private final double[] contributions;

    private Propagation(double value, double[] contributions) {
        this.value = value;
        this.contributions = contributions;
    }

    /**
     * Empty where the function has no finite value at or next to the inputs.
     *
     * @param value of the function at the inputs
     * @param above values with one input after the other a step above; the value itself for an input without uncertainty
     * @param below the same a step below
     */
    static Optional<Propagation> of(double value, double[] above, double[] below) {
        double[] contributions = new double[above.length];
        double sum = value;
        for (int i = 0; i < contributions.length; i++) {
            contributions[i] = (above[i] - below[i]) / (2 * STEP);
            sum += Math.abs(contributions[i]);
        }
        return Double.isFinite(sum) ? Optional.of(new Propagation(value, contributions)) : Optional.empty();
    }

    Estimate estimate() {
        return new Estimate(value, combined(0, contributions.length));
    }

    double value() {
        return value;
    }

    /** What one input adds: its sensitivity times its standard uncertainty, with sign. */
    double contribution(int input) {
        return contributions[input];
    }

    /** Combined standard uncertainty of the inputs {@code from} to before {@code to}. */
    double combined(int from, int to) {
        double sum = 0;
        for (int i = from; i < to; i++) {
            sum += contributions[i] * contributions[i];
        }
        return Math.sqrt(sum);
    }
}
