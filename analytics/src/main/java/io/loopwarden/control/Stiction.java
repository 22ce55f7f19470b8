package io.loopwarden.control;

import java.util.Arrays;
import java.util.OptionalDouble;

/** A sticking stem: it stands while its command moves on, then slips to it at once, and so on. */
final class Stiction {

    private static final double STANDS = 2e-4;
    private static final double LEAST_BAND = 0.012;
    private static final int LEAST_SLIPS = 3;

    /** Of the gap that had opened, what a slip closes at least. */
    private static final double SLIP_RATIO = 0.5;

    private Stiction() {}

    /** Median gap between command and position at the end of a standstill; empty where there are hardly any. */
    static OptionalDouble band(double[] position, double[] command) {
        double[] gaps = new double[position.length];
        int slips = 0;
        for (int i = 2; i < position.length; i++) {
            boolean stood = Math.abs(position[i - 1] - position[i - 2]) < STANDS;
            double gap = command[i - 1] - position[i - 1];
            double move = position[i] - position[i - 1];
            boolean slipped =
                    Math.abs(gap) > LEAST_BAND && move * gap > 0 && Math.abs(move) > SLIP_RATIO * Math.abs(gap);
            if (stood && slipped) {
                gaps[slips++] = Math.abs(gap);
            }
        }
        if (slips < LEAST_SLIPS) {
            return OptionalDouble.empty();
        }
        double[] sorted = Arrays.copyOf(gaps, slips);
        Arrays.sort(sorted);
        return OptionalDouble.of(sorted[slips / 2]);
    }
}
