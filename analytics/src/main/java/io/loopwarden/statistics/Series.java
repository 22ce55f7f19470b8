package io.loopwarden.statistics;

import java.util.Arrays;

/** Sums and order statistics over arrays that the callers own. */
final class Series {

    private Series() {}

    static void requirePaired(double[] x, double[] y) {
        if (x.length != y.length) {
            throw new IllegalArgumentException("x has " + x.length + " values, y has " + y.length);
        }
        requireFinite("x", x);
        requireFinite("y", y);
    }

    static void requireFinite(String name, double[] values) {
        for (int i = 0; i < values.length; i++) {
            if (!Double.isFinite(values[i])) {
                throw new IllegalArgumentException(name + "[" + i + "] is " + values[i] + ", must be finite");
            }
        }
    }

    static double mean(double[] values) {
        double sum = 0;
        for (double v : values) {
            sum += v;
        }
        return sum / values.length;
    }

    /** Median; the mean of the middle two where their number is even. */
    static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return atRank(sorted, (sorted.length + 1) / 2.0);
    }

    /** Median of the first values, which are left in another order (Hoare's selection). */
    static double medianInPlace(double[] values, int count) {
        int middle = count / 2;
        select(values, count, middle);
        if (count % 2 == 1) {
            return values[middle];
        }
        double below = values[0];
        for (int i = 1; i < middle; i++) {
            below = Math.max(below, values[i]);
        }
        return (below + values[middle]) / 2;
    }

    private static void select(double[] values, int count, int rank) {
        int from = 0;
        int to = count - 1;
        while (from < to) {
            double pivot = values[(from + to) >>> 1];
            int i = from;
            int j = to;
            while (i <= j) {
                while (values[i] < pivot) {
                    i++;
                }
                while (values[j] > pivot) {
                    j--;
                }
                if (i <= j) {
                    double swap = values[i];
                    values[i++] = values[j];
                    values[j--] = swap;
                }
            }
            if (rank <= j) {
                to = j;
            } else if (rank >= i) {
                from = i;
            } else {
                return;
            }
        }
    }

    /** Value at a rank from 1 to n, between two ranks by linear interpolation, the nearest end outside. */
    static double atRank(double[] sorted, double rank) {
        double position = Math.min(sorted.length, Math.max(1, rank)) - 1;
        int below = (int) Math.floor(position);
        int above = Math.min(sorted.length - 1, below + 1);
        return sorted[below] + (position - below) * (sorted[above] - sorted[below]);
    }

    /** Quantile by linear interpolation between the order statistics (type 7 of Hyndman and Fan). */
    static double quantile(double[] sorted, double probability) {
        return atRank(sorted, 1 + probability * (sorted.length - 1));
    }

    /** Every k-th value so that at most this many are left, counted back from the last. */
    static double[] thinned(double[] values, int most) {
        int step = (values.length + most - 1) / most;
        double[] kept = new double[(values.length - 1) / step + 1];
        for (int i = 0; i < kept.length; i++) {
            kept[kept.length - 1 - i] = values[values.length - 1 - i * step];
        }
        return kept;
    }
}
