package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.Arrays;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * Mann–Kendall test for a monotonic trend (Gilbert, <i>Statistical Methods for Environmental Pollution Monitoring</i>,
 * 1987, section 16.4). It takes the values as independent; serial correlation makes it call too often.
 *
 * @param s pairs that rise minus pairs that fall
 * @param variance of s without a trend, corrected for ties
 * @param z s over its standard deviation, with continuity correction
 * @param twoSidedP probability of |s| this large without a trend; exact up to ten values without ties
 */
public record MannKendall(long s, double variance, double z, double twoSidedP) {

    private static final int LEAST_VALUES = 4;
    private static final int EXACT_UP_TO = 10;
    private static final NormalDistribution NORMAL = new NormalDistribution();

    /** Test of values in order of time. */
    public static Computed<MannKendall> of(double[] values) {
        Series.requireFinite("values", values);
        int n = values.length;
        if (n < LEAST_VALUES) {
            return Computed.unavailable(
                    Reason.INPUT_MISSING, "a trend test needs " + LEAST_VALUES + " values, got " + n);
        }
        long s = 0;
        for (int i = 0; i < n; i++) {
            for (int j = i + 1; j < n; j++) {
                s += (long) Math.signum(values[j] - values[i]);
            }
        }
        double variance = variance(values);
        if (!(variance > 0)) {
            return Computed.unavailable(Reason.NOT_OBSERVABLE, "all " + n + " values are " + values[0]);
        }
        double z = (s - Math.signum(s)) / Math.sqrt(variance);
        boolean tied = variance != untiedVariance(n);
        double p = n <= EXACT_UP_TO && !tied
                ? Math.min(1, 2 * exactUpperTail(n, Math.abs(s)))
                : 2 * NORMAL.cumulativeProbability(-Math.abs(z));
        return Computed.of(new MannKendall(s, variance, z, p));
    }

    static double variance(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        double tied = 0;
        for (int i = 0; i < sorted.length; ) {
            int j = i;
            while (j < sorted.length && sorted[j] == sorted[i]) {
                j++;
            }
            double t = j - i;
            tied += t * (t - 1) * (2 * t + 5);
            i = j;
        }
        return untiedVariance(sorted.length) - tied / 18;
    }

    private static double untiedVariance(double n) {
        return n * (n - 1) * (2 * n + 5) / 18;
    }

    /** P(S ≥ s) over all orders of n different values: S = pairs - 2·inversions, inversions counted by recursion on n. */
    static double exactUpperTail(int n, long s) {
        int pairs = n * (n - 1) / 2;
        double[] orders = new double[pairs + 1];
        orders[0] = 1;
        for (int k = 2; k <= n; k++) {
            double[] next = new double[pairs + 1];
            for (int inversions = 0; inversions <= pairs; inversions++) {
                for (int moved = 0; moved < k && moved <= inversions; moved++) {
                    next[inversions] += orders[inversions - moved] / k;
                }
            }
            orders = next;
        }
        double tail = 0;
        for (int inversions = 0; inversions <= pairs && pairs - 2L * inversions >= s; inversions++) {
            tail += orders[inversions];
        }
        return tail;
    }
}
