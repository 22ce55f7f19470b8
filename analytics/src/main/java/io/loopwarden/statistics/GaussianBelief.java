package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.List;
import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * What is believed of some parameters: jointly normal, sharpened by observations that are linear in them (Gelman et al.,
 * <i>Bayesian Data Analysis</i>, section 14.8; with no prior it is weighted least squares).
 */
public record GaussianBelief(List<Double> mean, Covariance covariance) {

    /**
     * One observation.
     *
     * @param sensitivities of the observed value to each parameter
     * @param variance of its own error, &gt; 0
     */
    public record Observation(double[] sensitivities, double value, double variance) {

        public Observation {
            if (!(variance > 0) || !Double.isFinite(value) || Double.isInfinite(variance)) {
                throw new IllegalArgumentException("observation " + value + " with variance " + variance);
            }
            sensitivities = sensitivities.clone();
        }
    }

    public GaussianBelief {
        mean = List.copyOf(mean);
        if (mean.size() != covariance.size()) {
            throw new IllegalArgumentException(
                    mean.size() + " means with a covariance of " + covariance.size() + " quantities");
        }
    }

    /** Belief after the observations, whose errors are independent of each other and of this belief. */
    public Computed<GaussianBelief> after(List<Observation> observations) {
        int n = mean.size();
        // scaled by the prior deviations, so that parameters of any unit share one matrix
        double[] scale = new double[n];
        for (int i = 0; i < n; i++) {
            scale[i] = covariance.standardUncertainty(i);
        }
        RealMatrix information = MatrixUtils.createRealMatrix(n, n);
        RealVector pull = MatrixUtils.createRealVector(new double[n]);
        for (Observation o : observations) {
            double expected = 0;
            for (int i = 0; i < n; i++) {
                expected += o.sensitivities()[i] * mean.get(i);
            }
            for (int i = 0; i < n; i++) {
                double weighted = o.sensitivities()[i] * scale[i] / o.variance();
                pull.addToEntry(i, weighted * (o.value() - expected));
                for (int j = 0; j < n; j++) {
                    information.addToEntry(i, j, weighted * o.sensitivities()[j] * scale[j]);
                }
            }
        }
        RealMatrix correlation = MatrixUtils.createRealMatrix(n, n);
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                double product = scale[i] * scale[j];
                correlation.setEntry(i, j, i == j ? 1 : product > 0 ? covariance.get(i, j) / product : 0);
            }
        }
        return solve(correlation, information, pull, scale);
    }

    /** Value of a linear function of the parameters. */
    public Estimate estimate(double[] sensitivities) {
        double value = 0;
        for (int i = 0; i < sensitivities.length; i++) {
            value += sensitivities[i] * mean.get(i);
        }
        return new Estimate(value, Math.sqrt(covariance.variance(sensitivities)));
    }

    private Computed<GaussianBelief> solve(
            RealMatrix correlation, RealMatrix information, RealVector pull, double[] scale) {
        try {
            RealMatrix precision = new CholeskyDecomposition(correlation, 1e-9, 1e-14)
                    .getSolver()
                    .getInverse()
                    .add(information);
            RealMatrix posterior = new CholeskyDecomposition(symmetric(precision), 1e-9, 0)
                    .getSolver()
                    .getInverse();
            RealVector step = posterior.operate(pull);
            Double[] moved = new Double[scale.length];
            for (int i = 0; i < scale.length; i++) {
                moved[i] = mean.get(i) + scale[i] * step.getEntry(i);
                for (int j = 0; j < scale.length; j++) {
                    posterior.multiplyEntry(i, j, scale[i] * scale[j]);
                }
            }
            return Computed.of(new GaussianBelief(List.of(moved), Covariance.of(posterior)));
        } catch (org.hipparchus.exception.MathIllegalArgumentException e) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE, "the prior leaves no freedom in some direction: " + e.getMessage());
        }
    }

    private static RealMatrix symmetric(RealMatrix matrix) {
        return matrix.add(matrix.transpose()).scalarMultiply(0.5);
    }
}
