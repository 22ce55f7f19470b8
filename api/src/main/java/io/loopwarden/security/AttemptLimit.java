package io.loopwarden.security;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Slows down guessing: after some failures a name or address has to wait, twice as long after each further one. Remembers a bounded
 * number of them, the longest unused forgotten first.
 */
final class AttemptLimit {

    private static final int MOST_REMEMBERED = 10_000;
    private static final Duration FIRST_WAIT = Duration.ofSeconds(2);
    private static final Duration LONGEST_WAIT = Duration.ofMinutes(15);
    private static final Duration FORGET_AFTER = Duration.ofHours(1);

    private record Failures(int count, Instant last, Instant waitUntil) {}

    private final int free;
    private final Clock clock;
    private final Map<String, Failures> failures = new LinkedHashMap<>(16, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Failures> eldest) {
            return size() > MOST_REMEMBERED;
        }
    };

    /** @param free failures that cost no wait */
    AttemptLimit(int free, Clock clock) {
        this.free = free;
        this.clock = clock;
    }

    /** How long to wait before the next attempt; zero: now. */
    synchronized Duration wait(String who) {
        Failures past = failures.get(who);
        if (past == null) {
            return Duration.ZERO;
        }
        Duration left = Duration.between(clock.instant(), past.waitUntil());
        return left.isNegative() ? Duration.ZERO : left;
    }

    synchronized void failed(String who) {
        Instant now = clock.instant();
        Failures past = failures.get(who);
        int count = past == null || past.last().plus(FORGET_AFTER).isBefore(now) ? 1 : past.count() + 1;
        int over = Math.min(count - free, 20);
        Duration wait = over <= 0 ? Duration.ZERO : FIRST_WAIT.multipliedBy(1L << (over - 1));
        failures.put(who, new Failures(count, now, now.plus(wait.compareTo(LONGEST_WAIT) < 0 ? wait : LONGEST_WAIT)));
    }

    synchronized void succeeded(String who) {
        failures.remove(who);
    }
}
