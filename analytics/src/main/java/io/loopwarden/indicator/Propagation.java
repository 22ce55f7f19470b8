package io.loopwarden.indicator;

import io.loopwarden.statistics.Estimate;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/** First-order propagation of independent standard uncertainties (JCGM 100:2008, 5.1.2), sensitivities by central differences. */
final class Propagation {

    /** A step this small keeps the sensitivity first-order, as the law asks, and is far above rounding. */
    private static final double STEP_PER_UNCERTAINTY = 1.0 / 64;

    private final double value;
    private final double[] contributions;

    private Propagation(double value, double[] contributions) {
        this.value = value;
        this.contributions = contributions;
    }

    /** Empty where the function has no finite value at or next to the inputs. The function must not change its argument. */
    static Optional<Propagation> of(ToDoubleFunction<double[]> function, double[] inputs, double[] uncertainties) {
        double value = function.applyAsDouble(inputs);
        if (!Double.isFinite(value)) {
            return Optional.empty();
        }
        double[] x = inputs.clone();
        double[] contributions = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            double step = uncertainties[i] * STEP_PER_UNCERTAINTY;
            if (step == 0) {
                continue;
            }
            x[i] = inputs[i] + step;
            double above = function.applyAsDouble(x);
            x[i] = inputs[i] - step;
            double below = function.applyAsDouble(x);
            x[i] = inputs[i];
            contributions[i] = (above - below) / (2 * STEP_PER_UNCERTAINTY);
            if (!Double.isFinite(contributions[i])) {
                return Optional.empty();
            }
        }
        return Optional.of(new Propagation(value, contributions));
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
