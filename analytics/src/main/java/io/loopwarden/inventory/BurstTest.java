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
    private static final double CLIP = 8;
    /** What must be left of a ramp without its two best values, so that a spike of two is no loss. */
    private static final double LEFT = 1.5;

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
        int calm = Math.min(MOST_AFTER, n - LEAST_BEFORE);
        double base = 0;
        for (int i = calm; i < n; i++) {
            base += value[i] / (n - calm);
        }
        return best(n, base, sigma);
    }

    /** All onsets in one pass from the newest value back: sums of time and level, and of their products, about the newest. */
    private Result best(int n, double base, double sigma) {
        Result best = Result.NONE;
        int bestAfter = 0;
        double stepZ = 0;
        double t = 0;
        double tt = 0;
        double ty = 0;
        double y = 0;
        for (int i = 0; i < Math.min(MOST_AFTER, n - LEAST_BEFORE); i++) {
            double clipped = Math.max(-CLIP * sigma, Math.min(CLIP * sigma, value[i] - base));
            double ago = time[i] - time[0];
            t += ago;
            tt += ago * ago;
            ty += ago * clipped;
            y += clipped;
            int after = i + 1;
            if (after < LEAST_AFTER) {
                continue;
            }
            double start = time[after] - time[0];
            double f = t - after * start;
            double ff = tt - 2 * start * t + after * start * start;
            double fy = ty - start * y;
            double information = (ff - f * f / n) / (sigma * sigma);
            double pull = (f * y / n - fy) / (sigma * sigma);
            double stepInformation = (after - (double) after * after / n) / (sigma * sigma);
            double stepPull = (y * after / n - y) / (sigma * sigma);
            stepZ = Math.max(stepZ, stepPull / Math.sqrt(stepInformation));
            double z = pull / Math.sqrt(information);
            if (z > best.z()) {
                bestAfter = after;
                best = new Result(z, 0, pull / information, 1 / Math.sqrt(information), -start);
            }
        }
        if (bestAfter == 0 || left(bestAfter, base, sigma) < LEFT) {
            return Result.NONE;
        }
        return new Result(best.z(), stepZ, best.rateLPerS(), best.rateUncertainty(), best.ageS());
    }

    /** How clear the ramp is without the two values that speak for it most. */
    private double left(int after, double base, double sigma) {
        double start = time[after];
        double first = 0;
        double second = 0;
        double firstRamp = 0;
        double secondRamp = 0;
        double pull = 0;
        double information = 0;
        for (int i = 0; i < after; i++) {
            double ramp = time[i] - start;
            double says = ramp * (base - value[i]) / sigma;
            pull += says;
            information += ramp * ramp;
            if (says > first) {
                second = first;
                secondRamp = firstRamp;
                first = says;
                firstRamp = ramp;
            } else if (says > second) {
                second = says;
                secondRamp = ramp;
            }
        }
        double left = information - firstRamp * firstRamp - secondRamp * secondRamp;
        return left > 0 ? (pull - first - second) / Math.sqrt(left) : 0;
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
}
