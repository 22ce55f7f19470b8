package io.loopwarden.watch;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.inventory.LeakJudge;
import io.loopwarden.inventory.LeakMemory;
import io.loopwarden.inventory.LeakSettings;
import io.loopwarden.inventory.LeakSuspicion;
import io.loopwarden.inventory.LoopMinute;
import io.loopwarden.inventory.LoopPoint;
import io.loopwarden.inventory.Span;
import io.loopwarden.maintenance.MaintenanceLog;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Sums up a unit's samples minute by minute for the leak suspicion. A minute closes when a sample of ten seconds after its end has
 * come; within that, order does not matter, and what comes later than that is left out. Two minutes are open at most, so memory is
 * bounded. For one thread.
 */
public final class ContainmentWatch {

    private static final long MINUTE_MS = 60_000;
    private static final long GRACE_MS = 10_000;
    /** A point that sends changes only is as it was for so long. */
    private static final long HELD_MS = 90_000;

    private static final long CLOCK_SET_BACK_MINUTES = 60;

    /** Sums of whole billionths do not depend on their order. */
    private static final double BILLIONTH = 1e9;

    /** Whole billionths of more do not fit. */
    private static final double MOST = 1e8;

    private static final int POINTS = LoopPoint.COUNT;
    private static final int LEVEL = LoopPoint.LEVEL.ordinal();
    private static final int FLOW = LoopPoint.FLOW.ordinal();
    private static final int RETURN_FLOW = LoopPoint.RETURN_FLOW.ordinal();

    private final LeakJudge judge;
    private final Minute[] minutes = {new Minute(), new Minute()};
    private final double[] heldValue = new double[POINTS];
    private final long[] heldMs = new long[POINTS];
    private long open = Long.MIN_VALUE;
    private long newestMs = Long.MIN_VALUE;
    private long newestLevelS = Long.MIN_VALUE;
    private long newestFlowS = Long.MIN_VALUE;
    private long late;
    private boolean levelCame;

    public ContainmentWatch(Nameplate nameplate, LeakSettings settings) {
        judge = new LeakJudge(nameplate, settings);
        Arrays.fill(heldMs, Long.MIN_VALUE);
    }

    /** One open minute. */
    private static final class Minute {
        private final long[] sum = new long[POINTS];
        private final int[] count = new int[POINTS];
        private final int[] bad = new int[POINTS];
        private final double[] least = new double[POINTS];
        private final double[] most = new double[POINTS];
        private final double[] last = new double[POINTS];
        private final long[] lastMs = new long[POINTS];
        private final double[] level = new double[LoopMinute.SECONDS];
        private final short[] levelMark = new short[LoopMinute.SECONDS];
        private boolean used;

        void clear() {
            Arrays.fill(sum, 0);
            Arrays.fill(count, 0);
            Arrays.fill(bad, 0);
            Arrays.fill(levelMark, (short) 0);
            used = false;
        }

        void add(int point, long ms, double value) {
            used = true;
            if (point == LEVEL && !takesLevel(ms, value)) {
                return;
            }
            if (count[point] == 0) {
                least[point] = value;
                most[point] = value;
                last[point] = value;
                lastMs[point] = ms;
            } else {
                least[point] = Math.min(least[point], value);
                most[point] = Math.max(most[point], value);
                if (ms > lastMs[point] || ms == lastMs[point] && value < last[point]) {
                    lastMs[point] = ms;
                    last[point] = value;
                }
            }
            count[point]++;
            sum[point] += Math.round(value * BILLIONTH);
        }

        /** One value a second, the earliest; a repeated one changes nothing. */
        private boolean takesLevel(long ms, double value) {
            int second = (int) (Math.floorMod(ms, MINUTE_MS) / 1000);
            short mark = (short) (1 + Math.floorMod(ms, 1000L));
            short before = levelMark[second];
            if (before != 0 && before <= mark) {
                return false;
            }
            if (before != 0) {
                sum[LEVEL] -= Math.round(level[second] * BILLIONTH);
                count[LEVEL]--;
            }
            levelMark[second] = mark;
            level[second] = value;
            return true;
        }

        Span span(int point) {
            int n = count[point];
            return n == 0
                    ? bad[point] == 0 ? Span.NONE : new Span(0, 0, 0, 0, 0, bad[point])
                    : new Span(sum[point] / (n * BILLIONTH), least[point], most[point], last[point], n, bad[point]);
        }

        List<Double> levels() {
            List<Double> levels = new ArrayList<>(LoopMinute.SECONDS);
            for (int s = 0; s < LoopMinute.SECONDS; s++) {
                if (levelMark[s] != 0) {
                    levels.add(level[s]);
                }
            }
            return levels;
        }
    }

    /** Takes a value in the point's inner unit; {@code good} is false where it cannot be believed. */
    public void accept(LoopPoint point, long epochMs, double value, boolean good) {
        int p = point.ordinal();
        levelCame |= p == LEVEL && good;
        if (epochMs > newestMs) {
            newestMs = epochMs;
            closeUpTo(epochMs);
        }
        long minute = Math.floorDiv(epochMs, MINUTE_MS);
        if (minute < open - CLOCK_SET_BACK_MINUTES) {
            clockSetBack(minute, epochMs);
        }
        if (minute < open) {
            late++;
            return;
        }
        Minute m = minutes[(int) Math.floorMod(minute, 2L)];
        if (!good || !(Math.abs(value) < MOST)) {
            m.used = true;
            m.bad[p]++;
            return;
        }
        m.add(p, epochMs, value);
        if (epochMs >= heldMs[p]) {
            heldMs[p] = epochMs;
            heldValue[p] = value;
        }
        if (p == LEVEL) {
            level(Math.floorDiv(epochMs, 1000L), value);
        } else if (p == FLOW || p == RETURN_FLOW) {
            flows(Math.floorDiv(epochMs, 1000L));
        }
    }

    /** Both meters have a value of that second. */
    private void flows(long second) {
        boolean both = second > newestFlowS
                && Math.floorDiv(heldMs[FLOW], 1000L) == second
                && Math.floorDiv(heldMs[RETURN_FLOW], 1000L) == second;
        if (both) {
            newestFlowS = second;
            judge.flows(second, heldValue[FLOW], heldValue[RETURN_FLOW]);
        }
    }

    /** A sample so old does not come late: the source's clock was ahead before. */
    private void clockSetBack(long minute, long epochMs) {
        open = minute;
        newestMs = epochMs;
        newestLevelS = Long.MIN_VALUE;
        newestFlowS = Long.MIN_VALUE;
        Arrays.fill(heldMs, Long.MIN_VALUE);
        minutes[0].clear();
        minutes[1].clear();
    }

    private void level(long second, double ratio) {
        if (second > newestLevelS) {
            newestLevelS = second;
            judge.level(second, ratio);
        }
    }

    private void closeUpTo(long ms) {
        long newestMinute = Math.floorDiv(ms, MINUTE_MS);
        if (open == Long.MIN_VALUE) {
            open = newestMinute;
        }
        long firstOpen = Math.floorDiv(ms - GRACE_MS, MINUTE_MS);
        for (int i = 0; i < 2 && open < firstOpen; i++) {
            close();
            open++;
        }
        open = Math.max(open, firstOpen);
    }

    private void close() {
        Minute m = minutes[(int) Math.floorMod(open, 2L)];
        if (!m.used) {
            return;
        }
        long endMs = (open + 1) * MINUTE_MS;
        List<Span> spans = new ArrayList<>(POINTS);
        for (int p = 0; p < POINTS; p++) {
            Span span = m.span(p);
            boolean holds = span == Span.NONE && p != LEVEL && heldMs[p] >= endMs - MINUTE_MS - HELD_MS;
            spans.add(holds ? new Span(heldValue[p], heldValue[p], heldValue[p], heldValue[p], 1, 0) : span);
        }
        List<Double> levels = m.levels();
        m.clear();
        judge.accept(new LoopMinute(endMs / 1000, spans, levels));
    }

    public void accept(MaintenanceLog log) {
        judge.accept(log);
    }

    LeakMemory memory() {
        return judge.memory();
    }

    void restore(LeakMemory memory) {
        judge.restore(memory);
    }

    /** What is thought of leaks now; nothing within the first quarter of an hour. */
    public Computed<LeakSuspicion> suspicion() {
        return judge.suspicion().map(Computed::of).orElseGet(this::notYet);
    }

    private Computed<LeakSuspicion> notYet() {
        return levelCame
                ? Computed.unavailable(
                        Reason.BASELINE_MISSING, "Leaks have not been watched for a quarter of an hour yet.")
                : Computed.unavailable(
                        Reason.INPUT_MISSING, LoopPoint.LEVEL.point() + " has never been received from this unit.");
    }

    /** A leak is called; cheaper than asking for all of the suspicion. */
    public boolean called() {
        return judge.called();
    }

    /** Samples that came too late to count. */
    public long late() {
        return late;
    }
}
