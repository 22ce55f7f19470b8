package io.loopwarden.virtual.plant;

/** Noise as a pure function of time: values drawn by hash at even knots, joined smoothly; about −1 to 1. */
public final class SmoothNoise {

    private SmoothNoise() {}

    public static double at(long seed, double seconds, double knotS) {
        double x = seconds / knotS;
        long k = (long) Math.floor(x);
        double u = x - k;
        double w = u * u * (3 - 2 * u);
        return (1 - w) * knot(seed, k) + w * knot(seed, k + 1);
    }

    private static double knot(long seed, long k) {
        return mix(seed * 0x9E3779B97F4A7C15L + k) / (double) Long.MAX_VALUE;
    }

    /** The finaliser of SplitMix64. */
    public static long mix(long z) {
        z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        return z ^ (z >>> 31);
    }
}
