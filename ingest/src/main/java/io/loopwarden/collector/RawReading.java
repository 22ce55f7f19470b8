package io.loopwarden.collector;

import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import java.time.Instant;
import java.util.Objects;

/**
 * One value under a supplier's own name, before the point map.
 *
 * @param source the tag as the point map spells it: a node id, a metric name, a register address
 */
public record RawReading(String source, Instant measuredAt, RawValue value, Quality quality) {

    public RawReading {
        Objects.requireNonNull(source, "source");
        Objects.requireNonNull(measuredAt, "measuredAt");
        Objects.requireNonNull(value, "value");
        Objects.requireNonNull(quality, "quality");
    }
}
