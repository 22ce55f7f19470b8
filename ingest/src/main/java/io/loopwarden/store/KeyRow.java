package io.loopwarden.store;

import java.time.Instant;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

/**
 * One API key as stored: never the key itself.
 *
 * @param areas parts of the API it is good for; empty: all
 */
public record KeyRow(
        String id,
        String label,
        String role,
        List<String> areas,
        String secretHashHex,
        Optional<Instant> until,
        Instant createdAt,
        String createdBy) {

    public KeyRow {
        areas = List.copyOf(Objects.requireNonNull(areas, "areas"));
    }
}
