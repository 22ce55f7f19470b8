package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

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

    /** A figure of independent inputs, or that they do not fit together. */
    static Computed<Estimate> figure(ToDoubleFunction<double[]> function, Estimate... inputs) {
        return through(function, inputs)
                .filter(p -> Double.isFinite(p.combined(0, inputs.length)))
                .map(p -> Computed.of(p.estimate()))
                .orElseGet(() -> Computed.unavailable(
                        Reason.INPUT_IMPLAUSIBLE, "The values that the figure rests on contradict each other."));
    }

    /** The same as {@link #of} for a function of independent inputs that is quick to work out; it must not change its argument. */
    static Optional<Propagation> through(ToDoubleFunction<double[]> function, Estimate... inputs) {
        double[] x = new double[inputs.length];
        for (int i = 0; i < x.length; i++) {
            x[i] = inputs[i].value();
        }
        double[] above = new double[x.length];
        double[] below = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            double step = STEP * inputs[i].standardUncertainty();
            x[i] = inputs[i].value() + step;
            above[i] = function.applyAsDouble(x);
            x[i] = inputs[i].value() - step;
            below[i] = function.applyAsDouble(x);
            x[i] = inputs[i].value();
        }
        return of(function.applyAsDouble(x), above, below);
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
