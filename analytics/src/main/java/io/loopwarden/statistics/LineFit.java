package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;

/**
 * A straight line by ordinary least squares, with the standard deviations of its coefficients.
 *
 * @param intercept value at x = 0
 * @param residualSd root of the residual sum of squares over n - 2
 * @param correlation of intercept and slope
 */
public record LineFit(
        double intercept,
        double slope,
        double interceptSd,
        double slopeSd,
        double correlation,
        double residualSumOfSquares,
        double residualSd,
        int points) {

    public static Computed<LineFit> of(double[] x, double[] y) {
        Series.requirePaired(x, y);
        int n = x.length;
        if (n < 3) {
            return Computed.unavailable(Reason.INPUT_MISSING, "a line with errors needs 3 points, got " + n);
        }
        double meanX = Series.mean(x);
        double meanY = Series.mean(y);
        double sxx = 0;
        double sxy = 0;
        for (int i = 0; i < n; i++) {
            sxx += (x[i] - meanX) * (x[i] - meanX);
            sxy += (x[i] - meanX) * (y[i] - meanY);
        }
        if (!(sxx > 0)) {
            return Computed.unavailable(Reason.NOT_OBSERVABLE, "all " + n + " points lie at x = " + meanX);
        }
        double slope = sxy / sxx;
        double rss = 0;
        for (int i = 0; i < n; i++) {
            // centred, so that a large intercept costs no digits
            double residual = (y[i] - meanY) - slope * (x[i] - meanX);
            rss += residual * residual;
        }
        double residualSd = Math.sqrt(rss / (n - 2));
        double slopeSd = residualSd / Math.sqrt(sxx);
        double spread = Math.sqrt(1.0 / n + meanX * meanX / sxx);
        double correlation = -meanX / (Math.sqrt(sxx) * spread);
        return Computed.of(new LineFit(
                meanY - slope * meanX, slope, residualSd * spread, slopeSd, correlation, rss, residualSd, n));
    }

    public double at(double x) {
        return intercept + slope * x;
    }
}
