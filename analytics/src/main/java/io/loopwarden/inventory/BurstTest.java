package io.loopwarden.inventory;

import java.util.Arrays;

/**
 * The last minute of the level, second by second: does it fall like a ramp that began three to thirty seconds ago? What it holds does
 * not depend on the order in which samples come. For one thread.
 */
final class BurstTest {

    private static final int RING = 128;
    private static final int WINDOW = 64;
    static final int LEAST_AFTER = 3;
    private static final int MOST_AFTER = 30;
    private static final int LEAST_BEFORE = 20;
    /** So few outliers cannot look like a loss. */
    private static final double CLIP = 4.5;

    private static final int SHORT = 14;
    /** A window's own scatter above this, relative to the learnt one, is believed: 1 in 10⁵ by chance. */
    private static final double SCATTER_RATIO2 = 2.6;

    private final long[] second = new long[RING];
    private final double[] litres = new double[RING];
    private final double[] value = new double[WINDOW];
    private final double[] time = new double[WINDOW];

    BurstTest() {
        Arrays.fill(second, Long.MIN_VALUE);
    }

    /** @param rateLPerS least squares of the ramp that fits best */
    record Result(double z, double stepZ, double rateLPerS, double rateUncertainty, double ageS) {
        static final Result NONE = new Result(0, 0, 0, Double.POSITIVE_INFINITY, 0);
    }

    void accept(long atSecond, double levelLitres) {
        int slot = (int) Math.floorMod(atSecond, (long) RING);
        if (second[slot] < atSecond) {
            second[slot] = atSecond;
            litres[slot] = levelLitres;
        }
    }

    void clear() {
        Arrays.fill(second, Long.MIN_VALUE);
    }

    /**
     * @param from seconds before it are left out: the pumps changed then
     * @param deviation of one value, as learnt
     */
    Result look(long newest, long from, double deviation) {
        int n = 0;
        for (long s = newest; s > newest - WINDOW && s >= from; s--) {
            int slot = (int) Math.floorMod(s, (long) RING);
            if (second[slot] == s) {
                value[n] = litres[slot];
                time[n] = s;
                n++;
            }
        }
        if (n < LEAST_BEFORE + LEAST_AFTER) {
            return Result.NONE;
        }
        double sigma = Math.max(deviation, scatter(n, deviation));
        double before = 0;
        for (int i = LEAST_AFTER; i < n; i++) {
            before += value[i];
        }
        Result best = Result.NONE;
        double stepZ = 0;
        for (int after = LEAST_AFTER; after <= MOST_AFTER && n - after >= LEAST_BEFORE; after++) {
            Result r = onset(n, after, before / (n - after), sigma);
            stepZ = Math.max(stepZ, r.stepZ());
            if (r.z() > best.z()) {
                best = r;
            }
            before -= value[after];
        }
        return new Result(best.z(), stepZ, best.rateLPerS(), best.rateUncertainty(), best.ageS());
    }

    /** Deviation that the window shows; 0 where it is within what was learnt. */
    private double scatter(int n, double deviation) {
        double all = differenceVariance(n);
        double latest = differenceVariance(Math.min(n, SHORT));
        double most = Math.max(all, latest);
        return most > SCATTER_RATIO2 * deviation * deviation ? Math.sqrt(most) : 0;
    }

    /** From second differences: a level that falls evenly adds nothing to them. */
    private double differenceVariance(int n) {
        double squares = 0;
        for (int i = 2; i < n; i++) {
            double d = value[i - 2] - 2 * value[i - 1] + value[i];
            squares += d * d;
        }
        return squares / (6 * (n - 2));
    }

    private Result onset(int n, int after, double base, double sigma) {
        double start = time[after];
        double f = 0;
        double ff = 0;
        double fy = 0;
        double y = 0;
        for (int i = 0; i < after; i++) {
            double ramp = time[i] - start;
            double clipped = Math.max(-CLIP * sigma, Math.min(CLIP * sigma, value[i] - base));
            f += ramp;
            ff += ramp * ramp;
            fy += ramp * clipped;
            y += clipped;
        }
        double information = (ff - f * f / n) / (sigma * sigma);
        double pull = -(fy - f * y / n) / (sigma * sigma);
        double stepInformation = (after - (double) after * after / n) / (sigma * sigma);
        double stepPull = -(y - y * after / n) / (sigma * sigma);
        return new Result(
                pull / Math.sqrt(information),
                stepPull / Math.sqrt(stepInformation),
                pull / information,
                1 / Math.sqrt(information),
                time[0] - start);
    }
}
