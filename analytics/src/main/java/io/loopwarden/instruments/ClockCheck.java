package io.loopwarden.instruments;

import java.util.OptionalDouble;

/** How far a source's clock lies off ours: the least delay of its scans within the last ten to twenty minutes. */
public final class ClockCheck {

    private static final long BLOCK_S = 600;

    /** Ahead by more than this, or behind by more than {@link #MOST_BEHIND_S}, the clock is wrong. */
    private static final double MOST_AHEAD_S = 2;

    private static final double MOST_BEHIND_S = 30;

    private long block = Long.MIN_VALUE;
    private double least = Double.POSITIVE_INFINITY;
    private double leastBefore = Double.POSITIVE_INFINITY;

    /** @param delayS time of receipt minus the newest source time of a scan */
    public void observe(double receivedEpochS, double delayS) {
        long now = (long) Math.floor(receivedEpochS / BLOCK_S);
        if (now > block) {
            leastBefore = now == block + 1 ? least : Double.POSITIVE_INFINITY;
            least = Double.POSITIVE_INFINITY;
            block = now;
        }
        if (now == block) {
            least = Math.min(least, delayS);
        }
    }

    /** Seconds that the source's clock lies behind ours, negative ahead; empty where it is right or nothing came. */
    public OptionalDouble offS() {
        double delay = Math.min(least, leastBefore);
        boolean off = Double.isFinite(delay) && (delay < -MOST_AHEAD_S || delay > MOST_BEHIND_S);
        return off ? OptionalDouble.of(delay) : OptionalDouble.empty();
    }
}
