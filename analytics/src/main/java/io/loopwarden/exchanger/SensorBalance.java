package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Covariance;
import io.loopwarden.statistics.Reconciliation;
import io.loopwarden.statistics.Reconciliation.Residual;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.hipparchus.special.Erf;

/**
 * All sensors around the exchanger against each other: both duties are equal, sensors of one quantity read the same, what flows in
 * flows out.
 *
 * @param pValue chance that sensors as good as stated disagree as much (chi-square, one degree a balance)
 * @param suspect name of the sensor whose standardised residual stands out, where there is more than one balance
 */
public record SensorBalance(double pValue, double chiSquare, int balances, Optional<String> suspect) {

    /**
     * One more sensor of a quantity that is measured already.
     *
     * @param of index in {@link ExchangerState#QUANTITIES}
     * @param ratio its reading over that of the other if both are right: other density at another temperature
     */
    public record Second(String name, int of, double value, double standardUncertainty, double ratio) {}

    /**
     * @param names of the six sensors of the state, in its order
     * @param uncertainty of the state and both heat capacities, in the order of {@link ExchangerState#QUANTITIES}
     */
    public static Computed<SensorBalance> of(
            Exchanger exchanger, ExchangerState state, List<String> names, double[] uncertainty, List<Second> seconds) {
        if (seconds.isEmpty()) {
            return heatAlone(exchanger, state, uncertainty);
        }
        int n = ExchangerState.SIZE + seconds.size();
        double[] x = new double[n];
        double[] u = new double[n];
        List<String> all = new ArrayList<>(names);
        all.add("heat capacity of the TCS coolant");
        all.add("heat capacity of the FWS coolant");
        System.arraycopy(state.toVector(), 0, x, 0, ExchangerState.SIZE);
        System.arraycopy(uncertainty, 0, u, 0, ExchangerState.SIZE);
        for (int i = 0; i < seconds.size(); i++) {
            x[ExchangerState.SIZE + i] = seconds.get(i).value();
            u[ExchangerState.SIZE + i] = seconds.get(i).standardUncertainty();
            all.add(seconds.get(i).name());
        }
        return Reconciliation.of(x, Covariance.independent(u), at -> residual(exchanger, at, seconds))
                .map(r -> new SensorBalance(r.pValue(), r.chiSquare(), r.balances(), suspect(r, all)));
    }

    /** One balance and nothing to solve: chi-square with one degree of freedom is the square of a normal deviate. */
    private static Computed<SensorBalance> heatAlone(Exchanger exchanger, ExchangerState state, double[] uncertainty) {
        return exchanger.imbalance(state, 1, 1).map(heat -> {
            double variance = 0;
            for (int i = 0; i < ExchangerState.SIZE; i++) {
                double part = heat.gradient()[i] * uncertainty[i];
                variance += part * part;
            }
            double chiSquare = variance > 0 ? heat.value() * heat.value() / variance : 0;
            return new SensorBalance(Erf.erfc(Math.sqrt(chiSquare / 2)), chiSquare, 1, Optional.empty());
        });
    }

    private static Optional<String> suspect(Reconciliation r, List<String> names) {
        OptionalInt suspect = r.balances() > 1 ? r.suspect() : OptionalInt.empty();
        return suspect.isPresent() ? Optional.of(names.get(suspect.getAsInt())) : Optional.empty();
    }

    private static Residual residual(Exchanger exchanger, double[] x, List<Second> seconds) {
        ExchangerState s = new ExchangerState(x[0], x[1], x[2], x[3], x[4], x[5]);
        double[] values = new double[1 + seconds.size()];
        double[][] jacobian = new double[1 + seconds.size()][x.length];
        exchanger
                .imbalance(s, x[ExchangerState.HOT_CAPACITY], x[ExchangerState.COLD_CAPACITY])
                .fold(
                        heat -> {
                            values[0] = heat.value();
                            System.arraycopy(heat.gradient(), 0, jacobian[0], 0, ExchangerState.SIZE);
                            return true;
                        },
                        gap -> {
                            values[0] = Double.NaN;
                            return false;
                        });
        for (int i = 0; i < seconds.size(); i++) {
            Second second = seconds.get(i);
            values[1 + i] = x[ExchangerState.SIZE + i] - second.ratio() * x[second.of()];
            jacobian[1 + i][ExchangerState.SIZE + i] = 1;
            jacobian[1 + i][second.of()] = -second.ratio();
        }
        return new Residual(values, jacobian);
    }
}
