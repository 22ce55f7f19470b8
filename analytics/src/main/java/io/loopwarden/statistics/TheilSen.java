package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.Arrays;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * A straight line by the median of all pairwise slopes (Theil 1950, Sen 1968); up to 29 % of wild points leave it alone.
 *
 * @param slope median slope; pairs at equal x do not count
 * @param intercept median of y - slope·x
 * @param lowerSlope lower end of the interval of the slope, by the ranks of Gilbert 1987 section 16.5
 */
public record TheilSen(double slope, double intercept, double lowerSlope, double upperSlope) {

    /** A year of days; the pairs are half the square of this. */
    public static final int MOST_POINTS = 2000;

    private static final int LEAST_POINTS = 4;

    /** @param confidence of the interval, for example 0.95; it takes the points as independent */
    public static Computed<TheilSen> of(double[] x, double[] y, double confidence) {
        Series.requirePaired(x, y);
        int n = x.length;
        if (n < LEAST_POINTS || n > MOST_POINTS) {
            return Computed.unavailable(
                    Reason.INPUT_MISSING,
                    "a robust trend needs " + LEAST_POINTS + " to " + MOST_POINTS + " points, got " + n);
        }
        double[] slopes = slopes(x, y);
        if (slopes.length == 0) {
            return Computed.unavailable(Reason.NOT_OBSERVABLE, "all " + n + " points lie at x = " + x[0]);
        }
        Arrays.sort(slopes);
        double slope = Series.quantile(slopes, 0.5);
        double z = new NormalDistribution().inverseCumulativeProbability(0.5 + confidence / 2);
        double halfRanks = z * Math.sqrt(MannKendall.variance(y)) / 2;
        double middle = slopes.length / 2.0;
        return Computed.of(new TheilSen(
                slope,
                intercept(x, y, slope),
                Series.atRank(slopes, middle - halfRanks),
                Series.atRank(slopes, middle + halfRanks + 1)));
    }

    public double at(double x) {
        return intercept + slope * x;
    }

    /** The median slope alone, for many refits. */
    static double slope(double[] x, double[] y, double[] work) {
        int count = 0;
        for (int i = 0; i < x.length; i++) {
            for (int j = i + 1; j < x.length; j++) {
                if (x[j] != x[i]) {
                    work[count++] = (y[j] - y[i]) / (x[j] - x[i]);
                }
            }
        }
        return Series.medianInPlace(work, count);
    }

    private static double[] slopes(double[] x, double[] y) {
        double[] slopes = new double[x.length * (x.length - 1) / 2];
        int count = 0;
        for (int i = 0; i < x.length; i++) {
            for (int j = i + 1; j < x.length; j++) {
                if (x[j] != x[i]) {
                    slopes[count++] = (y[j] - y[i]) / (x[j] - x[i]);
                }
            }
        }
        return Arrays.copyOf(slopes, count);
    }

    static double intercept(double[] x, double[] y, double slope) {
        double[] offsets = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            offsets[i] = y[i] - slope * x[i];
        }
        return Series.median(offsets);
    }
}
