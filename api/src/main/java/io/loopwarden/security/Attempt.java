package io.loopwarden.security;

import java.time.Duration;

/** What became of an attempt to sign in. */
public sealed interface Attempt {

    /** @param token for the browser's cookie */
    record Opened(String person, Role role, String token) implements Attempt {}

    /** @param detail says no more than whoever asks may know */
    record Refused(String detail) implements Attempt {}

    record TooMany(Duration pause) implements Attempt {}
}
