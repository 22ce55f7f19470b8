package io.loopwarden.replay;

import java.io.PrintStream;
import java.time.Duration;
import java.time.Instant;

/** Tells how far a replay is and how long it will still take, every few seconds. */
final class Progress {

    private static final long EVERY_NS = 2_000_000_000L;
    private static final int LOOK_EVERY = 10_000;

    private final ReplaySource source;
    private final PrintStream out;
    private final long beganNs = System.nanoTime();
    private long toldNs = beganNs;
    private int calls;

    Progress(ReplaySource source, PrintStream out) {
        this.source = source;
        this.out = out;
    }

    void at(Instant time) {
        if (++calls % LOOK_EVERY != 0) {
            return;
        }
        long nowNs = System.nanoTime();
        if (nowNs - toldNs >= EVERY_NS) {
            toldNs = nowNs;
            out.println(line(time, source.doneRatio(), Duration.ofNanos(nowNs - beganNs)));
        }
    }

    static String line(Instant time, double done, Duration spent) {
        String left = done > 0
                ? ", "
                        + Duration.ofSeconds(Math.round(spent.toMillis() / 1000.0 * (1 - done) / done))
                                .toString()
                                .substring(2)
                                .toLowerCase(java.util.Locale.ROOT)
                        + " left"
                : "";
        return Math.round(100 * done) + " %, at " + time + left;
    }
}
