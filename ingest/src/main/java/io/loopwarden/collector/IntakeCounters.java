package io.loopwarden.collector;

import java.util.Map;
import java.util.Objects;

/**
 * How many samples of one connection went which way since start.
 *
 * @param good kept with quality good
 * @param uncertain kept with quality uncertain, those beyond their plausible range included
 * @param bad kept with quality bad
 * @param rejected refused, by reason; a reason that never happened is absent
 */
public record IntakeCounters(String connection, long good, long uncertain, long bad, Map<RejectReason, Long> rejected) {

    public IntakeCounters {
        Objects.requireNonNull(connection, "connection");
        rejected = Map.copyOf(rejected);
    }

    /** All that are on disk. */
    public long kept() {
        return good + uncertain + bad;
    }
}
