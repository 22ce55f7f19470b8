package io.loopwarden.maintenance;

import java.util.Objects;

/**
 * A number with its unit, as somebody wrote it.
 *
 * @param unit UCUM code, for example {@code L}
 */
public record Amount(double value, String unit) {

    public Amount {
        Objects.requireNonNull(unit, "unit");
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("an amount must be a finite number, not " + value);
        }
    }
}
