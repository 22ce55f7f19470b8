package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresBuilder;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresOptimizer.Optimum;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresProblem;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.hipparchus.util.Pair;

/**
 * Least squares fit of y = amplitude·(1 - exp(-rate·x)), the form of Kern and Seaton's asymptotic fouling.
 *
 * @param amplitude asymptote
 * @param rate reciprocal of the time constant
 * @param correlation of the two; near ±1 only their product, the initial slope, is known
 */
public record ExponentialRise(
        Estimate amplitude, Estimate rate, double correlation, double residualSumOfSquares, int points) {

    private static final int LEAST_POINTS = 4;
    private static final int MOST_EVALUATIONS = 1000;
    private static final double[] RATE_TIMES_SPAN = IntStream.rangeClosed(-10, 10)
            .mapToDouble(i -> Math.pow(10, i / 5.0))
            .toArray();

    /** Fit that finds its own start: the best of 21 rates between 0.01 and 100 per span of x. */
    public static Computed<ExponentialRise> of(double[] x, double[] y) {
        Series.requirePaired(x, y);
        double span = 0;
        for (double v : x) {
            span = Math.max(span, v);
        }
        if (!(span > 0)) {
            return Computed.unavailable(Reason.NOT_OBSERVABLE, "no point lies after x = 0");
        }
        double bestRate = 0;
        double leastSum = Double.POSITIVE_INFINITY;
        for (double r : RATE_TIMES_SPAN) {
            double sum = residualSum(x, y, amplitudeAt(x, y, r / span), r / span);
            if (sum < leastSum) {
                leastSum = sum;
                bestRate = r / span;
            }
        }
        return from(x, y, amplitudeAt(x, y, bestRate), bestRate);
    }

    /** Fit from a given start. */
    static Computed<ExponentialRise> from(double[] x, double[] y, double startAmplitude, double startRate) {
        if (x.length < LEAST_POINTS) {
            return Computed.unavailable(
                    Reason.INPUT_MISSING,
                    "an asymptotic fit with errors needs " + LEAST_POINTS + " points, got " + x.length);
        }
        if (startAmplitude == 0 || !Double.isFinite(startAmplitude)) {
            return Computed.unavailable(Reason.NOT_OBSERVABLE, "the points do not rise at all");
        }
        // values and parameters scaled to the start, so that one tolerance serves both and any unit of y
        double[] relative = new double[y.length];
        for (int i = 0; i < y.length; i++) {
            relative[i] = y[i] / startAmplitude;
        }
        LeastSquaresProblem problem = new LeastSquaresBuilder()
                .start(new double[] {1, 1})
                .target(relative)
                .model(scaled -> model(x, startRate, scaled))
                .checker((iteration, previous, current) -> previous.getPoint().getDistance(current.getPoint())
                        <= 1e-13 * current.getPoint().getNorm())
                .maxEvaluations(MOST_EVALUATIONS)
                .maxIterations(MOST_EVALUATIONS)
                .build();
        try {
            Optimum optimum = new LevenbergMarquardtOptimizer()
                    .withCostRelativeTolerance(1e-15)
                    .withParameterRelativeTolerance(1e-15)
                    .withOrthoTolerance(1e-15)
                    .optimize(problem);
            return result(x, y, optimum, startAmplitude, startRate);
        } catch (org.hipparchus.exception.MathRuntimeException e) {
            return Computed.unavailable(Reason.NOT_OBSERVABLE, "the asymptotic fit did not settle: " + e.getMessage());
        }
    }

    public double at(double x) {
        return -amplitude.value() * Math.expm1(-rate.value() * x);
    }

    /** Where the curve reaches a value: -ln(1 - y/amplitude)/rate; never at or above the asymptote. */
    public OptionalDouble xAt(double y) {
        double risen = y / amplitude.value();
        return risen < 1 ? OptionalDouble.of(-Math.log1p(-risen) / rate.value()) : OptionalDouble.empty();
    }

    private static Computed<ExponentialRise> result(
            double[] x, double[] y, Optimum optimum, double startAmplitude, double startRate) {
        double amplitude = optimum.getPoint().getEntry(0) * startAmplitude;
        double rate = optimum.getPoint().getEntry(1) * startRate;
        double rss = residualSum(x, y, amplitude, rate);
        double variance = rss / (x.length - 2) / startAmplitude / startAmplitude;
        RealMatrix covariance = optimum.getCovariances(1e-14).scalarMultiply(variance);
        double amplitudeSd = Math.sqrt(covariance.getEntry(0, 0)) * Math.abs(startAmplitude);
        double rateSd = Math.sqrt(covariance.getEntry(1, 1)) * Math.abs(startRate);
        double correlation =
                covariance.getEntry(0, 1) / Math.sqrt(covariance.getEntry(0, 0) * covariance.getEntry(1, 1));
        if (!Double.isFinite(amplitudeSd + rateSd + correlation) || !(rate > 0)) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE, "the points bend the wrong way or not at all: no asymptote can be told");
        }
        return Computed.of(new ExponentialRise(
                new Estimate(amplitude, amplitudeSd), new Estimate(rate, rateSd), correlation, rss, x.length));
    }

    private static Pair<RealVector, RealMatrix> model(double[] x, double startRate, RealVector scaled) {
        double amplitude = scaled.getEntry(0);
        double rate = scaled.getEntry(1) * startRate;
        double[] value = new double[x.length];
        double[][] jacobian = new double[x.length][2];
        for (int i = 0; i < x.length; i++) {
            double risen = -Math.expm1(-rate * x[i]);
            value[i] = amplitude * risen;
            jacobian[i][0] = risen;
            jacobian[i][1] = startRate * amplitude * x[i] * Math.exp(-rate * x[i]);
        }
        return new Pair<>(new ArrayRealVector(value, false), MatrixUtils.createRealMatrix(jacobian));
    }

    /** For a given rate the model is linear in its amplitude. */
    private static double amplitudeAt(double[] x, double[] y, double rate) {
        double numerator = 0;
        double denominator = 0;
        for (int i = 0; i < x.length; i++) {
            double risen = -Math.expm1(-rate * x[i]);
            numerator += y[i] * risen;
            denominator += risen * risen;
        }
        return numerator / denominator;
    }

    private static double residualSum(double[] x, double[] y, double amplitude, double rate) {
        double sum = 0;
        for (int i = 0; i < x.length; i++) {
            double residual = y[i] + amplitude * Math.expm1(-rate * x[i]);
            sum += residual * residual;
        }
        return sum;
    }
}
