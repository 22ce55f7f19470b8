package io.loopwarden.watch;

/**
 * What the bins of one point say over a window: level, drift, scatter.
 *
 * @param bins bins of the window
 * @param present bins with a value, their own or one held from a bin shortly before
 * @param firstPresent index of the first of them, {@code bins} if there is none
 * @param bad samples that the source called bad
 * @param mean of the bins
 * @param drift least-squares slope times the window's length
 * @param driftSignificance slope over its standard error
 * @param deviation standard deviation of the bins
 * @param range largest minus smallest bin
 * @param binNoise standard deviation of a bin as it follows from the scatter within bins
 * @param ratioOfVariances variance of the bins over half the mean square of their successive differences: 1 for white
 *     noise, large for drift and slow swings (von Neumann 1941; Cao and Rhinehart 1995 test steady state by it)
 */
record WindowStatistics(
        int bins,
        int present,
        int firstPresent,
        int good,
        int bad,
        double mean,
        double drift,
        double driftSignificance,
        double deviation,
        double range,
        double binNoise,
        double ratioOfVariances) {

    /** Statistics of bins {@code from} to before {@code to}; an empty bin repeats one at most {@code holdBins} before it. */
    static WindowStatistics of(PointWindow window, long from, long to, int holdBins) {
        Sums sums = new Sums((int) (to - from));
        double held = 0;
        long heldUntil = Long.MIN_VALUE;
        for (long bin = from - holdBins; bin < to; bin++) {
            int found = window.find(bin);
            boolean own = found >= 0 && window.good(found) > 0;
            if (own) {
                held = window.last(found);
                heldUntil = bin + holdBins;
            }
            if (bin < from) {
                continue;
            }
            int index = (int) (bin - from);
            if (found >= 0) {
                sums.count(window.good(found), window.bad(found), window.squares(found));
            }
            if (own) {
                sums.add(index, window.mean(found));
            } else if (bin <= heldUntil) {
                sums.add(index, held);
            }
        }
        return sums.statistics();
    }

    double goodShare() {
        return (double) present / bins;
    }

    double badShare() {
        return bad == 0 ? 0 : (double) bad / (good + bad);
    }

    /** Present from some bin on without a break: the point began to come, or came back, within the window. */
    boolean onlyBeginning() {
        return present == bins - firstPresent;
    }

    /** Standard uncertainty of the mean by scatter; slow swings count as fewer independent bins. */
    double meanUncertainty() {
        double inflation = Math.min(present, Math.max(1, ratioOfVariances));
        return present == 0 ? 0 : deviation * Math.sqrt(inflation / present);
    }

    private static final class Sums {
        private final int bins;
        private int present;
        private int firstPresent;
        private int good;
        private int bad;
        private double within;
        private int withinFreedom;
        private double offset;
        private double previous;
        private double y;
        private double yy;
        private double t;
        private double tt;
        private double ty;
        private double successive;
        private double least = Double.POSITIVE_INFINITY;
        private double most = Double.NEGATIVE_INFINITY;

        Sums(int bins) {
            this.bins = bins;
            this.firstPresent = bins;
        }

        void count(int goodSamples, int badSamples, double squares) {
            good += goodSamples;
            bad += badSamples;
            within += squares;
            withinFreedom += Math.max(0, goodSamples - 1);
        }

        void add(int index, double value) {
            if (present == 0) {
                offset = value;
                firstPresent = index;
            } else {
                successive += (value - previous) * (value - previous);
            }
            present++;
            previous = value;
            double d = value - offset;
            y += d;
            yy += d * d;
            t += index;
            tt += (double) index * index;
            ty += index * d;
            least = Math.min(least, value);
            most = Math.max(most, value);
        }

        WindowStatistics statistics() {
            if (present == 0) {
                return new WindowStatistics(bins, 0, firstPresent, good, bad, 0, 0, 0, 0, 0, 0, 1);
            }
            double n = present;
            double squaresY = Math.max(0, yy - y * y / n);
            double squaresT = tt - t * t / n;
            double slope = squaresT > 0 ? (ty - t * y / n) / squaresT : 0;
            double residual = Math.max(0, squaresY - slope * slope * squaresT);
            double slopeError = n > 2 && squaresT > 0 ? Math.sqrt(residual / (n - 2) / squaresT) : 0;
            double variance = n > 1 ? squaresY / (n - 1) : 0;
            double halfSuccessive = n > 1 ? successive / (n - 1) / 2 : 0;
            double noise = withinFreedom == 0 ? 0 : Math.sqrt(within / withinFreedom * n / good);
            return new WindowStatistics(
                    bins,
                    present,
                    firstPresent,
                    good,
                    bad,
                    offset + y / n,
                    slope * bins,
                    significance(slope, slopeError),
                    Math.sqrt(variance),
                    most - least,
                    noise,
                    ratio(variance, halfSuccessive));
        }

        private static double significance(double slope, double error) {
            return error > 0 ? Math.abs(slope) / error : slope == 0 ? 0 : Double.MAX_VALUE;
        }

        private static double ratio(double variance, double halfSuccessive) {
            return halfSuccessive > 0 ? variance / halfSuccessive : variance > 0 ? Double.MAX_VALUE : 1;
        }
    }
}
