package io.loopwarden.fleet;

import java.util.Objects;
import java.util.regex.Pattern;

/**
 * Name of one coolant distribution unit, unique in the fleet, for example {@code E-07}.
 *
 * @param value 1 to 64 characters: letters, digits, {@code . _ -}, starting with a letter or digit
 */
public record UnitId(String value) implements Comparable<UnitId> {

    private static final Pattern SHAPE = Pattern.compile("[A-Za-z0-9][A-Za-z0-9._-]{0,63}");

    public UnitId {
        Objects.requireNonNull(value, "value");
        if (!SHAPE.matcher(value).matches()) {
            throw new IllegalArgumentException(
                    "unit id '" + value + "' is not 1 to 64 of letters, digits, '.', '_', '-'");
        }
    }

    @Override
    public int compareTo(UnitId other) {
        return value.compareTo(other.value);
    }

    @Override
    public String toString() {
        return value;
    }
}
