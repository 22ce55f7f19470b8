package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.Objects;

/**
 * What one indicator said of one unit.
 *
 * @param key the indicator's stable name
 * @param unit UCUM code of value and uncertainty
 * @param from start of the window looked at
 * @param to end of the window looked at, not before {@code from}
 * @param subject which part of the unit decides the figure, in words; empty where it is about all of it
 */
public record IndicatorResult(
        String key,
        UnitFunction function,
        String unit,
        Instant from,
        Instant to,
        Computed<Estimate> value,
        String subject) {

    /** A figure about all of its function. */
    public IndicatorResult(
            String key, UnitFunction function, String unit, Instant from, Instant to, Computed<Estimate> value) {
        this(key, function, unit, from, to, value, "");
    }

    public IndicatorResult {
        Objects.requireNonNull(key, "key");
        Objects.requireNonNull(function, "function");
        Objects.requireNonNull(unit, "unit");
        Objects.requireNonNull(value, "value");
        Objects.requireNonNull(subject, "subject");
        if (to.isBefore(from)) {
            throw new IllegalArgumentException(key + " has a window from " + from + " to " + to);
        }
    }
}
