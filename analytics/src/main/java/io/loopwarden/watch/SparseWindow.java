package io.loopwarden.watch;

import java.time.Instant;
import java.util.Arrays;

/**
 * The last two minutes of a point that is only averaged: one sample in ten seconds at most.
 *
 * <p>Like {@link PointWindow} it does not depend on the order in which samples come: the earliest of a bin stays. 0.4 kB a point.
 */
final class SparseWindow {

    static final int WINDOW_BINS = 12;

    /** The window, the bin being filled, and some room for clocks that run apart. */
    private static final int RING_BINS = WINDOW_BINS + 4;

    private static final int NANOS_PER_MILLI = 1_000_000;

    private final long[] binNumber = new long[RING_BINS];
    private final short[] millisecond = new short[RING_BINS];
    private final double[] value = new double[RING_BINS];

    SparseWindow() {
        Arrays.fill(binNumber, Long.MIN_VALUE);
    }

    /** False if the sample is too old for the window. */
    boolean accept(Instant time, double sample) {
        long bin = PointWindow.binOf(time);
        int ring = (int) Math.floorMod(bin, (long) RING_BINS);
        if (binNumber[ring] > bin) {
            return false;
        }
        short mark = (short) (Math.floorMod(time.getEpochSecond(), (long) PointWindow.BIN_SECONDS) * 1000
                + time.getNano() / NANOS_PER_MILLI);
        boolean earlier = mark < millisecond[ring] || mark == millisecond[ring] && sample < value[ring];
        if (binNumber[ring] < bin || earlier) {
            binNumber[ring] = bin;
            millisecond[ring] = mark;
            value[ring] = sample;
        }
        return true;
    }

    /** Mean of the bins {@code from} to before {@code to}. */
    PointWindow.ShortMean mean(long from, long to) {
        int n = 0;
        double first = 0;
        double sum = 0;
        double squared = 0;
        for (long bin = from; bin < to; bin++) {
            int ring = (int) Math.floorMod(bin, (long) RING_BINS);
            if (binNumber[ring] != bin) {
                continue;
            }
            if (n == 0) {
                first = value[ring];
            }
            double d = value[ring] - first;
            n++;
            sum += d;
            squared += d * d;
        }
        return n == 0 ? PointWindow.ShortMean.NONE : PointWindow.ShortMean.of(n, first, sum, squared);
    }
}
