package io.loopwarden.control;

import java.util.Arrays;
import java.util.Optional;

/**
 * The last hour of one point, a value every five seconds. Like the shorter windows it does not depend on the order in which samples
 * come: the earliest of a slot stays, the smaller of two at one instant. 7 kB a point.
 */
public final class HourTrace {

    public static final int STEP_S = 5;
    static final int SLOTS = 720;

    private static final double LEAST_COVERAGE = 0.9;
    private static final int NANOS_PER_MILLI = 1_000_000;

    private final float[] values = new float[SLOTS];
    private final int[] slotOf = new int[SLOTS];
    private final short[] millisecond = new short[SLOTS];

    public HourTrace() {
        Arrays.fill(slotOf, Integer.MIN_VALUE);
    }

    /** Takes a sample of a time within the next two centuries; others are left out. */
    public void accept(long epochS, int nano, double value) {
        long number = Math.floorDiv(epochS, (long) STEP_S);
        if (number < 0 || number > Integer.MAX_VALUE) {
            return;
        }
        int slot = (int) number;
        int at = slot % SLOTS;
        short mark = (short) (epochS % STEP_S * 1000 + nano / NANOS_PER_MILLI);
        float rounded = (float) value;
        boolean earlier = mark < millisecond[at] || mark == millisecond[at] && rounded < values[at];
        if (slotOf[at] < slot || slotOf[at] == slot && earlier) {
            slotOf[at] = slot;
            millisecond[at] = mark;
            values[at] = rounded;
        }
    }

    /** The last so many values before an instant, gaps filled with the value before; empty where too many are missing. */
    Optional<double[]> series(long epochS, int window) {
        long end = Math.floorDiv(epochS, (long) STEP_S);
        if (end < window || end > Integer.MAX_VALUE) {
            return Optional.empty();
        }
        double[] y = new double[window];
        int present = 0;
        double held = 0;
        for (int i = 0; i < window; i++) {
            int slot = (int) end - window + i;
            int at = slot % SLOTS;
            if (slotOf[at] == slot) {
                held = values[at];
                if (present == 0) {
                    Arrays.fill(y, 0, i, held);
                }
                present++;
            }
            y[i] = held;
        }
        return present >= LEAST_COVERAGE * window ? Optional.of(y) : Optional.empty();
    }
}
