package io.loopwarden.fluid;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import java.util.function.DoubleFunction;
import java.util.function.DoubleUnaryOperator;

/**
 * A coolant whose properties are read from a table by cubic interpolation.
 *
 * <p>The formulations cost microseconds and a state is needed several times per evaluation. At a step of 0.25 K the
 * interpolation stays within 1e-7 of each formulation (a test holds this), far below the errors of the sources.
 */
final class TabulatedCoolant implements Coolant {

    private static final double STEP_K = 0.25;
    private static final int COLUMNS = 6;
    private static final int ENTHALPY = 5;

    private final double leastC;
    private final double mostC;
    private final String source;
    private final DoubleFunction<PropertyUncertainty> uncertainty;
    private final double heatCapacityUncertaintyRatio;
    private final double stepK;
    private final double[] table;

    TabulatedCoolant(
            double leastC,
            double mostC,
            String source,
            DoubleFunction<FluidState> state,
            DoubleUnaryOperator enthalpyJPerKg,
            DoubleFunction<PropertyUncertainty> uncertainty) {
        this.leastC = leastC;
        this.mostC = mostC;
        this.source = source;
        this.uncertainty = uncertainty;
        int steps = (int) Math.ceil((mostC - leastC) / STEP_K);
        this.stepK = (mostC - leastC) / steps;
        this.table = new double[(steps + 1) * COLUMNS];
        double widest = 0;
        for (int i = 0; i <= steps; i++) {
            double temperatureC = leastC + i * stepK;
            FluidState s = state.apply(temperatureC);
            double[] row = {
                s.densityKgPerM3(),
                s.specificHeatJPerKgK(),
                s.viscosityPaS(),
                s.conductivityWPerMK(),
                s.expansionPerK(),
                enthalpyJPerKg.applyAsDouble(temperatureC)
            };
            System.arraycopy(row, 0, table, i * COLUMNS, COLUMNS);
            widest = Math.max(widest, uncertainty.apply(temperatureC).heatCapacityRatio());
        }
        this.heatCapacityUncertaintyRatio = widest;
    }

    @Override
    public Computed<FluidState> stateAt(double temperatureC) {
        if (!inRange(temperatureC)) {
            return outside(temperatureC);
        }
        Stencil s = new Stencil(temperatureC);
        return Computed.of(
                new FluidState(temperatureC, s.column(0), s.column(1), s.column(2), s.column(3), s.column(4)));
    }

    @Override
    public Computed<Double> enthalpyJPerKg(double temperatureC) {
        return inRange(temperatureC) ? Computed.of(new Stencil(temperatureC).column(ENTHALPY)) : outside(temperatureC);
    }

    @Override
    public PropertyUncertainty uncertaintyAt(double temperatureC) {
        return uncertainty.apply(Math.min(mostC, Math.max(leastC, temperatureC)));
    }

    @Override
    public double heatCapacityUncertaintyRatio() {
        return heatCapacityUncertaintyRatio;
    }

    @Override
    public String source() {
        return source;
    }

    private boolean inRange(double temperatureC) {
        return temperatureC >= leastC && temperatureC <= mostC;
    }

    private <T> Computed<T> outside(double temperatureC) {
        return Computed.unavailable(
                Reason.OUTSIDE_VALID_RANGE,
                "coolant temperature is " + temperatureC + " °C; " + source + " is used from " + leastC + " to " + mostC
                        + " °C");
    }

    /** Weights of Lagrange's cubic through four neighbouring nodes, shifted inwards at the ends of the table. */
    private final class Stencil {
        private final int first;
        private final double w0;
        private final double w1;
        private final double w2;
        private final double w3;

        Stencil(double temperatureC) {
            double position = (temperatureC - leastC) / stepK;
            int nodes = table.length / COLUMNS;
            int node = Math.min(nodes - 4, Math.max(0, (int) position - 1));
            double x = position - node;
            first = node * COLUMNS;
            w0 = -(x - 1) * (x - 2) * (x - 3) / 6;
            w1 = x * (x - 2) * (x - 3) / 2;
            w2 = -x * (x - 1) * (x - 3) / 2;
            w3 = x * (x - 1) * (x - 2) / 6;
        }

        double column(int c) {
            int i = first + c;
            return w0 * table[i] + w1 * table[i + COLUMNS] + w2 * table[i + 2 * COLUMNS] + w3 * table[i + 3 * COLUMNS];
        }
    }
}
