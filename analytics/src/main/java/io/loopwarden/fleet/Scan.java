package io.loopwarden.fleet;

import java.time.Instant;
import java.util.List;
import java.util.Objects;

/**
 * Samples of one unit that came together: one poll, one message, one notification.
 *
 * @param receivedAt our clock, when they came
 * @param samples at least one; any order, each with its own source time
 */
public record Scan(UnitId unit, Instant receivedAt, List<Sample> samples) {

    public Scan {
        Objects.requireNonNull(unit, "unit");
        Objects.requireNonNull(receivedAt, "receivedAt");
        samples = List.copyOf(samples);
        if (samples.isEmpty()) {
            throw new IllegalArgumentException("empty scan of " + unit);
        }
    }
}
