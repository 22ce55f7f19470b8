package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.linear.SingularValueDecomposition;

/**
 * Modified Wilson plot: 1/UA = wall + hot/film_h + cold/film_c by least squares over windows of a clean exchanger at
 * different flows (Wilson 1915; Briggs and Young 1969). It knows nothing beforehand; see {@link CleanModel} for the
 * same with a prior and sensor offsets.
 *
 * @param wall resistance of the plates, K/W
 * @param hot resistance of the hot film at the reference film, K/W
 * @param cold the same of the cold film
 */
public record WilsonFit(
        Estimate wall,
        Estimate hot,
        Estimate cold,
        double hotColdCorrelation,
        double residualSumOfSquares,
        double conditionNumber) {

    private static final int PARAMETERS = 3;

    /** Beyond it errors of 1 % in UA leave films that are anybody's guess; a good design has about 20. */
    private static final double MOST_CONDITION_NUMBER = 200;

    /** Fit of all three; refused where the design cannot tell the films apart, for example always equal flows. */
    public static Computed<WilsonFit> of(double[] hotFilmRatio, double[] coldFilmRatio, double[] conductanceWPerK) {
        int n = conductanceWPerK.length;
        if (hotFilmRatio.length != n || coldFilmRatio.length != n) {
            throw new IllegalArgumentException(
                    n + " conductances, " + hotFilmRatio.length + " hot and " + coldFilmRatio.length + " cold films");
        }
        if (n <= PARAMETERS) {
            return Computed.unavailable(
                    Reason.BASELINE_MISSING, "a Wilson fit of 3 parameters needs 4 windows, got " + n);
        }
        RealMatrix design = MatrixUtils.createRealMatrix(n, PARAMETERS);
        RealVector resistance = MatrixUtils.createRealVector(new double[n]);
        for (int i = 0; i < n; i++) {
            design.setRow(i, new double[] {1, 1 / hotFilmRatio[i], 1 / coldFilmRatio[i]});
            resistance.setEntry(i, 1 / conductanceWPerK[i]);
        }
        SingularValueDecomposition svd = new SingularValueDecomposition(design);
        double condition = svd.getConditionNumber();
        if (!(condition <= MOST_CONDITION_NUMBER)) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE,
                    "the windows do not vary the two flows enough to tell the films apart: condition number "
                            + condition + ", limit " + MOST_CONDITION_NUMBER);
        }
        RealVector p = svd.getSolver().solve(resistance);
        RealVector residual = resistance.subtract(design.operate(p));
        double rss = residual.dotProduct(residual);
        RealMatrix covariance = svd.getCovariance(0).scalarMultiply(rss / (n - PARAMETERS));
        return Computed.of(new WilsonFit(
                estimate(p, covariance, 0),
                estimate(p, covariance, 1),
                estimate(p, covariance, 2),
                covariance.getEntry(1, 2) / Math.sqrt(covariance.getEntry(1, 1) * covariance.getEntry(2, 2)),
                rss,
                condition));
    }

    public double conductanceWPerK(double hotFilmRatio, double coldFilmRatio) {
        return 1 / (wall.value() + hot.value() / hotFilmRatio + cold.value() / coldFilmRatio);
    }

    private static Estimate estimate(RealVector p, RealMatrix covariance, int i) {
        return new Estimate(p.getEntry(i), Math.sqrt(covariance.getEntry(i, i)));
    }
}
