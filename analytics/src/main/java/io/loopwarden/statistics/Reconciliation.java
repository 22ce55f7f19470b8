package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalInt;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.DecompositionSolver;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * Measurements moved as little as their uncertainties allow until balances hold (Narasimhan and Jordache, <i>Data
 * Reconciliation and Gross Error Detection</i>, 2000): x = y - V Aᵀ (A V Aᵀ)⁻¹ A y.
 *
 * @param values reconciled, in the order of the measurements
 * @param covariance of the reconciled values
 * @param chiSquare of the balances; under correct uncertainties chi-square distributed with {@code balances} degrees
 * @param balances independent balances
 * @param standardisedAdjustments adjustment of each measurement over its standard deviation; 0 where no balance touches it
 */
public record Reconciliation(
        List<Double> values,
        Covariance covariance,
        double chiSquare,
        int balances,
        List<Double> standardisedAdjustments) {

    private static final int MOST_ITERATIONS = 20;
    private static final double SETTLED = 1e-9;

    /** Of balances scaled to unit variance; below it they are as good as dependent. */
    private static final double LEAST_PIVOT = 1e-10;

    /** Two adjustments closer than this cannot be told apart. */
    private static final double DISTINCT_RATIO = 1.05;

    /** Balances of the measured quantities: what they leave over at x, and the derivatives of that. */
    @FunctionalInterface
    public interface Balances {
        Residual at(double[] x);
    }

    /** @param jacobian one row per balance, one column per measurement */
    public record Residual(double[] values, double[][] jacobian) {

        /** Each balance over the standard deviation that the measurements give it. */
        private Residual scaled(RealMatrix v) {
            double[] scaledValues = values.clone();
            double[][] scaledJacobian = new double[values.length][];
            for (int k = 0; k < values.length; k++) {
                RealVector row = MatrixUtils.createRealVector(jacobian[k]);
                double sd = Math.sqrt(row.dotProduct(v.operate(row)));
                double factor = sd > 0 ? 1 / sd : 1;
                scaledValues[k] *= factor;
                scaledJacobian[k] = row.mapMultiply(factor).toArray();
            }
            return new Residual(scaledValues, scaledJacobian);
        }
    }

    public Reconciliation {
        values = List.copyOf(values);
        standardisedAdjustments = List.copyOf(standardisedAdjustments);
    }

    /** Reconciliation with linear balances, A x = 0. */
    public static Computed<Reconciliation> linear(double[] measured, Covariance uncertainty, double[][] balances) {
        return of(measured, uncertainty, x -> new Residual(multiply(balances, x), balances));
    }

    /** Reconciliation with smooth balances, by successive linearisation. */
    public static Computed<Reconciliation> of(double[] measured, Covariance uncertainty, Balances balances) {
        RealMatrix v = uncertainty.matrix();
        RealVector y = MatrixUtils.createRealVector(measured);
        RealVector x = y;
        for (int iteration = 0; iteration < MOST_ITERATIONS; iteration++) {
            Residual residual = balances.at(x.toArray()).scaled(v);
            RealMatrix a = MatrixUtils.createRealMatrix(residual.jacobian());
            RealMatrix va = v.multiplyTransposed(a);
            DecompositionSolver solver;
            try {
                RealMatrix spread = Covariance.of(a.multiply(va)).matrix();
                solver = new CholeskyDecomposition(spread, 1e-12, LEAST_PIVOT).getSolver();
            } catch (org.hipparchus.exception.MathIllegalArgumentException e) {
                return Computed.unavailable(
                        Reason.NOT_OBSERVABLE, "the balances depend on each other or on no uncertain measurement");
            }
            // what the balances would leave over at the measurements, seen from this linearisation
            RealVector left = MatrixUtils.createRealVector(residual.values()).add(a.operate(y.subtract(x)));
            RealVector multipliers = solver.solve(left);
            RealVector next = y.subtract(va.operate(multipliers));
            if (!Double.isFinite(next.getL1Norm())) {
                break;
            }
            double moved = moved(next, x, v);
            x = next;
            if (moved < SETTLED) {
                return Computed.of(result(y, x, v, va, solver, left.dotProduct(multipliers)));
            }
        }
        return Computed.unavailable(
                Reason.INPUT_IMPLAUSIBLE, "the balances cannot be met near the measurements: reconciliation diverged");
    }

    /** Probability of balances at least this far off if every uncertainty is as stated. */
    public double pValue() {
        return 1 - new ChiSquaredDistribution(balances).cumulativeProbability(chiSquare);
    }

    public boolean consistentAt(double significance) {
        return chiSquare <= new ChiSquaredDistribution(balances).inverseCumulativeProbability(1 - significance);
    }

    /** The measurement whose adjustment stands out, if one does; one balance alone cannot tell its members apart. */
    public OptionalInt suspect() {
        List<Double> sizes = new ArrayList<>();
        standardisedAdjustments.forEach(z -> sizes.add(Math.abs(z)));
        double largest = Collections.max(sizes);
        int at = sizes.indexOf(largest);
        sizes.remove(at);
        double next = sizes.isEmpty() ? 0 : Collections.max(sizes);
        return largest > DISTINCT_RATIO * next ? OptionalInt.of(at) : OptionalInt.empty();
    }

    private static Reconciliation result(
            RealVector y, RealVector x, RealMatrix v, RealMatrix va, DecompositionSolver solver, double chiSquare) {
        RealMatrix removed = va.multiply(solver.solve(va.transpose()));
        List<Double> values = new ArrayList<>();
        List<Double> standardised = new ArrayList<>();
        for (int i = 0; i < y.getDimension(); i++) {
            values.add(x.getEntry(i));
            double adjustmentSd = Math.sqrt(Math.max(0, removed.getEntry(i, i)));
            boolean touched = adjustmentSd > 1e-9 * Math.sqrt(v.getEntry(i, i));
            standardised.add(touched ? (y.getEntry(i) - x.getEntry(i)) / adjustmentSd : 0.0);
        }
        return new Reconciliation(
                values, Covariance.of(v.subtract(removed)), chiSquare, va.getColumnDimension(), standardised);
    }

    /** Largest step in units of each measurement's uncertainty. */
    private static double moved(RealVector next, RealVector x, RealMatrix v) {
        double most = 0;
        for (int i = 0; i < next.getDimension(); i++) {
            double sd = Math.sqrt(v.getEntry(i, i));
            double step = Math.abs(next.getEntry(i) - x.getEntry(i));
            most = Math.max(most, sd > 0 ? step / sd : step);
        }
        return most;
    }

    private static double[] multiply(double[][] a, double[] x) {
        return MatrixUtils.createRealMatrix(a).operate(x);
    }
}
