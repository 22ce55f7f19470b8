package io.loopwarden.security;

import java.time.Duration;
import java.time.Instant;

/** One open sign-in; ends at a fixed time, or when it was not used for a while. */
final class Session {

    private final String person;
    private final Instant begunAt;
    private final Instant until;
    private volatile Instant seenAt;

    Session(String person, Instant begunAt, Instant until, Instant seenAt) {
        this.person = person;
        this.begunAt = begunAt;
        this.until = until;
        this.seenAt = seenAt;
    }

    String person() {
        return person;
    }

    Instant begunAt() {
        return begunAt;
    }

    boolean isOver(Instant now, Duration idle) {
        return now.isAfter(until) || now.isAfter(seenAt.plus(idle));
    }

    void seen(Instant now) {
        seenAt = now;
    }
}
