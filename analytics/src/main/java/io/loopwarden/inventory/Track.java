package io.loopwarden.inventory;

import java.util.ArrayList;
import java.util.List;

/** Two days of content, level and static pressure, ten minutes apart. For one thread. */
final class Track {

    private static final int KEPT = 288;
    private static final int EVERY_S = 600;
    private static final int PAIR = 3;
    private static final double SAME_SPEED_SQUARED = 0.02;

    private final long[] at = new long[KEPT];
    private final double[] content = new double[KEPT];
    private final double[] level = new double[KEPT];
    private final double[] pressure = new double[KEPT];
    private final double[] speedSquared = new double[KEPT];
    private final boolean[] settled = new boolean[KEPT];
    private int count;

    void accept(
            long endS,
            double contentL,
            double levelL,
            Span staticPressure,
            Balance balance,
            Witnesses witnesses,
            boolean begun) {
        if (!begun || count > 0 && endS < at[index(count - 1)] + EVERY_S) {
            return;
        }
        int i = index(count);
        at[i] = endS;
        content[i] = contentL;
        level[i] = levelL;
        pressure[i] = staticPressure.mean();
        speedSquared[i] = -balance.sensitivities()[3];
        settled[i] = staticPressure.seen() && balance.running() && balance.settled();
        count++;
        if (count > PAIR) {
            int before = index(count - 1 - PAIR);
            boolean pair = settled[i]
                    && settled[before]
                    && at[i] - at[before] <= 2L * PAIR * EVERY_S
                    && Math.abs(speedSquared[i] - speedSquared[before]) < SAME_SPEED_SQUARED;
            if (pair) {
                witnesses.pressure().learn(level[i] - level[before], pressure[i] - pressure[before]);
            }
        }
    }

    private static int index(int number) {
        return number % KEPT;
    }

    private int size() {
        return Math.min(count, KEPT);
    }

    /** How level and pressure moved since a time; empty where pressure was not there, or the pumps ran otherwise. */
    double[] movedSince(long sinceS) {
        int last = index(count - 1);
        for (int k = count - 1; k >= count - size() && size() > 0; k--) {
            int i = index(k);
            if (at[i] <= sinceS) {
                boolean both = settled[i]
                        && settled[last]
                        && i != last
                        && Math.abs(speedSquared[i] - speedSquared[last]) < SAME_SPEED_SQUARED;
                return both ? new double[] {level[last] - level[i], pressure[last] - pressure[i]} : new double[0];
            }
        }
        return new double[0];
    }

    List<ContentPoint> plot() {
        List<ContentPoint> points = new ArrayList<>(size());
        int first = count - size();
        for (int k = first; k < count; k++) {
            int i = index(k);
            points.add(new ContentPoint(at[i], content[i] - content[index(first)], level[i] - level[index(first)]));
        }
        return points;
    }
}
