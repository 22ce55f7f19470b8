package io.loopwarden.watch;

import java.time.Instant;
import java.util.Arrays;

/**
 * The last quarter of an hour of one point: one sample a second at most, summed up in bins of ten seconds.
 *
 * <p>What it holds does not depend on the order in which samples come: of several in one second the earliest stays (the smaller
 * value, should a source send two for the same millisecond), so late, repeated and reordered samples end in the same window, and a
 * bin is summed in time order when it is asked for. A sample older than its place in the ring is refused. 13 kB a point.
 */
final class PointWindow {

    static final int BIN_SECONDS = 10;
    static final int WINDOW_BINS = 90;

    /** More than the window: a minute before it, from which a silent point is held, the bin being filled and the next. */
    private static final int RING_BINS = WINDOW_BINS + 8;

    private static final long NEVER = Long.MIN_VALUE;
    private static final int NANOS_PER_MILLI = 1_000_000;

    private final double[] slotValue = new double[RING_BINS * BIN_SECONDS];

    /** Millisecond within the second plus one; negative where the source called the value bad; 0 where there is none. */
    private final short[] slotMark = new short[RING_BINS * BIN_SECONDS];

    private final long[] binNumber = new long[RING_BINS];
    private final boolean[] summedUp = new boolean[RING_BINS];
    private final double[] mean = new double[RING_BINS];
    private final double[] squares = new double[RING_BINS];
    private final double[] last = new double[RING_BINS];
    private final byte[] good = new byte[RING_BINS];
    private final byte[] bad = new byte[RING_BINS];

    PointWindow() {
        Arrays.fill(binNumber, NEVER);
    }

    static long binOf(Instant time) {
        return Math.floorDiv(time.getEpochSecond(), (long) BIN_SECONDS);
    }

    static Instant startOf(long bin) {
        return Instant.ofEpochSecond(bin * BIN_SECONDS);
    }

    /** False if the sample is too old for the window. A value that is not good only marks its second as bad. */
    boolean accept(Instant time, double value, boolean isGood) {
        long bin = binOf(time);
        int ring = ringOf(bin);
        if (binNumber[ring] != bin) {
            if (binNumber[ring] > bin) {
                return false;
            }
            begin(ring, bin);
        }
        int slot = ring * BIN_SECONDS + (int) Math.floorMod(time.getEpochSecond(), (long) BIN_SECONDS);
        short mark = (short) (1 + time.getNano() / NANOS_PER_MILLI);
        int earlier = Math.abs(slotMark[slot]);
        boolean first = earlier == 0 || mark < earlier;
        boolean sameTimeAndPreferred = mark == earlier && preferred(slot, value, isGood);
        if (first || sameTimeAndPreferred) {
            slotMark[slot] = isGood ? mark : (short) -mark;
            slotValue[slot] = isGood ? value : 0;
            summedUp[ring] = false;
        }
        return true;
    }

    /** Among samples of the same millisecond: good before bad, then the smaller. */
    private boolean preferred(int slot, double value, boolean isGood) {
        boolean holdsGood = slotMark[slot] > 0;
        return isGood && (!holdsGood || value < slotValue[slot]);
    }

    private void begin(int ring, long bin) {
        binNumber[ring] = bin;
        Arrays.fill(slotMark, ring * BIN_SECONDS, (ring + 1) * BIN_SECONDS, (short) 0);
        summedUp[ring] = false;
    }

    private static int ringOf(long bin) {
        return (int) Math.floorMod(bin, (long) RING_BINS);
    }

    /** Index of a bin for the readers below, or -1 where nothing was received in it. */
    int find(long bin) {
        int ring = ringOf(bin);
        if (binNumber[ring] != bin) {
            return -1;
        }
        if (!summedUp[ring]) {
            sumUp(ring);
        }
        return ring;
    }

    private void sumUp(int ring) {
        int n = 0;
        int rejected = 0;
        double sum = 0;
        double latest = 0;
        for (int slot = ring * BIN_SECONDS; slot < (ring + 1) * BIN_SECONDS; slot++) {
            if (slotMark[slot] > 0) {
                n++;
                latest = slotValue[slot];
                sum += latest;
            } else if (slotMark[slot] < 0) {
                rejected++;
            }
        }
        double binMean = n == 0 ? 0 : sum / n;
        double binSquares = 0;
        for (int slot = ring * BIN_SECONDS; slot < (ring + 1) * BIN_SECONDS; slot++) {
            if (slotMark[slot] > 0) {
                double d = slotValue[slot] - binMean;
                binSquares += d * d;
            }
        }
        good[ring] = (byte) n;
        bad[ring] = (byte) rejected;
        mean[ring] = binMean;
        squares[ring] = binSquares;
        last[ring] = latest;
        summedUp[ring] = true;
    }

    int good(int found) {
        return good[found];
    }

    int bad(int found) {
        return bad[found];
    }

    double mean(int found) {
        return mean[found];
    }

    /** Sum of squared deviations from the bin's mean. */
    double squares(int found) {
        return squares[found];
    }

    double last(int found) {
        return last[found];
    }

    /** Good samples of the seconds after {@code at - span} up to {@code at}. */
    ShortMean latest(Instant at, int spanSeconds) {
        long end = at.getEpochSecond();
        int endMark = 1 + at.getNano() / NANOS_PER_MILLI;
        int n = 0;
        double sum = 0;
        double first = 0;
        double squared = 0;
        for (long second = end - spanSeconds; second <= end; second++) {
            int slot = slotOf(second);
            if (slot < 0 || slotMark[slot] <= 0) {
                continue;
            }
            boolean tooEarly = second == end - spanSeconds && slotMark[slot] <= endMark;
            boolean tooLate = second == end && slotMark[slot] > endMark;
            if (tooEarly || tooLate) {
                continue;
            }
            if (n == 0) {
                first = slotValue[slot];
            }
            double d = slotValue[slot] - first;
            n++;
            sum += d;
            squared += d * d;
        }
        return n == 0 ? ShortMean.NONE : ShortMean.of(n, first, sum, squared);
    }

    private int slotOf(long second) {
        long bin = Math.floorDiv(second, (long) BIN_SECONDS);
        int ring = ringOf(bin);
        return binNumber[ring] == bin ? ring * BIN_SECONDS + (int) Math.floorMod(second, (long) BIN_SECONDS) : -1;
    }

    /** Mean of a few samples and its standard uncertainty by scatter (JCGM 100:2008 4.2.3); a lone sample shows none. */
    record ShortMean(int count, double mean, double scatterUncertainty) {

        static final ShortMean NONE = new ShortMean(0, 0, 0);

        static ShortMean of(int n, double offset, double sum, double squared) {
            double variance = n < 2 ? 0 : Math.max(0, squared - sum * sum / n) / (n - 1);
            return new ShortMean(n, offset + sum / n, Math.sqrt(variance / n));
        }
    }
}
