package io.loopwarden.statistics;

/**
 * Sizes between a least and a most that are thought alike on a logarithmic scale; what a standardised estimate says for a change of
 * unknown size, as a Bayes factor.
 */
public final class SizePrior {

    private static final int STEPS = 12;
    /** Below, as a share of its uncertainty, a size shows in nothing. */
    private static final double INVISIBLE = 0.05;

    private static final double STRONG = 3;

    private final double least;
    private final double most;
    private final double width;

    public SizePrior(double least, double most) {
        if (!(least > 0 && most > least) || Double.isInfinite(most)) {
            throw new IllegalArgumentException("sizes from " + least + " to " + most + " must be > 0 and rise");
        }
        this.least = least;
        this.most = most;
        this.width = Math.log(most / least);
    }

    /**
     * Natural logarithm of the likelihood of what was seen, averaged over the sizes, relative to no change: of
     * ∫ e^(z·t − t²/2) dt/t over t = size/uncertainty.
     *
     * @param z estimate of the size over its uncertainty
     */
    public double logBayesFactor(double z, double uncertainty) {
        double from = least / uncertainty;
        double to = most / uncertainty;
        if (from >= to || Double.isInfinite(uncertainty)) {
            return 0;
        }
        double invisible = from < INVISIBLE ? Math.log(Math.min(to, INVISIBLE) / from) / width : 0;
        double low = Math.max(from, INVISIBLE);
        if (low >= to) {
            return 0;
        }
        if (z > STRONG && z > low + 1) {
            double top = Math.min(z, to);
            // the integral about its peak, of which one side may be cut off
            double exponent = z * top - top * top / 2;
            double share = z <= to ? normalBelow(to - z) - normalBelow(low - z) : 0.5;
            double visible = exponent + Math.log(Math.sqrt(2 * Math.PI) / top * share / width);
            return sum(Math.log(invisible), visible);
        }
        double high = Math.min(to, Math.max(low * 1.01, Math.max(z, 0) + 5));
        double step = Math.log(high / low) / STEPS;
        // relative to the largest term, which alone may be beyond every number
        double peak = Math.max(low, Math.min(high, z));
        double most = z * peak - peak * peak / 2;
        double sum = 0;
        for (int i = 0; i <= STEPS; i++) {
            double t = low * Math.exp(i * step);
            sum += (i == 0 || i == STEPS ? 0.5 : 1) * Math.exp(z * t - t * t / 2 - most);
        }
        return sum(Math.log(invisible), most + Math.log(sum * step / width));
    }

    /** Logarithm of the sum of two numbers whose logarithms are given. */
    public static double sum(double logA, double logB) {
        double most = Math.max(logA, logB);
        return most == Double.NEGATIVE_INFINITY ? most : most + Math.log1p(Math.exp(Math.min(logA, logB) - most));
    }

    /** Standard normal distribution, by the logistic approximation of Bowling et al. (2009), within 1.5e-4. */
    private static double normalBelow(double x) {
        return 1 / (1 + Math.exp(-(0.07056 * x * x * x + 1.5976 * x)));
    }
}
