package io.loopwarden.store;

import java.time.Instant;
import java.util.Optional;

/**
 * One person who may sign in, as stored.
 *
 * @param passwordHash absent until the person has chosen a password
 * @param token a way in that works once, for choosing a password
 */
public record PersonRow(
        String name,
        String role,
        boolean active,
        Optional<String> passwordHash,
        Optional<TokenRow> token,
        Instant createdAt,
        String createdBy) {

    /** Hash of a one-time token and the end of its life. */
    public record TokenRow(String hashHex, Instant until) {}
}
