package io.loopwarden.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;

/**
 * Notices an alarm flood as it happens: it begins with more than 10 alarms in 10 minutes for one operator and ends with fewer than 5 in
 * 10 minutes (ISA-18.2-2016, EEMUA 191).
 */
public final class Flood {

    static final Duration PERIOD = Duration.ofMinutes(10);
    static final int BEGINS_ABOVE = 10;
    static final int ENDS_BELOW = 5;

    /** Enough to tell a flood; older ones of a storm say nothing more. */
    private static final int MOST = 1000;

    private final Deque<Instant> recent = new ArrayDeque<>();
    private Optional<Instant> since = Optional.empty();

    /** An alarm was annunciated; in order of time. */
    public void raised(Instant at) {
        recent.addLast(at);
        if (recent.size() > MOST) {
            recent.removeFirst();
        }
    }

    /** Since when there is a flood; empty without one. */
    public Optional<Instant> since(Instant at, int operators) {
        while (!recent.isEmpty() && !recent.peekFirst().plus(PERIOD).isAfter(at)) {
            recent.removeFirst();
        }
        if (since.isEmpty() && recent.size() > BEGINS_ABOVE * operators) {
            since = Optional.of(recent.peekLast());
        } else if (since.isPresent() && recent.size() < ENDS_BELOW * operators) {
            since = Optional.empty();
        }
        return since;
    }
}
