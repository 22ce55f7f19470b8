package io.loopwarden.modbus;

/** Equally spaced times to poll at. What is missed is left out, never caught up, and the spacing does not drift. */
record PollGrid(long firstNs, long intervalNs) {

    PollGrid {
        if (intervalNs <= 0) {
            throw new IllegalArgumentException("interval of " + intervalNs + " ns is not more than 0");
        }
    }

    /** From {@code nowNs} to the next time that is still to come; times as of {@link System#nanoTime()}. */
    long delayNs(long nowNs) {
        long sinceFirstNs = nowNs - firstNs;
        return sinceFirstNs < 0 ? -sinceFirstNs : intervalNs - sinceFirstNs % intervalNs;
    }
}
