package io.loopwarden.store;

import java.time.Instant;

/** One open sign-in as stored: the hash of what the browser holds. */
public record SignInRow(String sessionHashHex, String person, Instant begunAt, Instant until) {}
