package io.loopwarden.fleet;

/** A value exactly as its source sent it, in the source's own unit. */
public sealed interface RawValue {

    /** A floating-point number; always finite. */
    record Decimal(double value) implements RawValue {
        public Decimal {
            if (!Double.isFinite(value)) {
                throw new IllegalArgumentException("not a finite number: " + value);
            }
        }
    }

    /** A whole number, flags included (0, 1). Unsigned 64-bit counters above 2^63 keep their bits. */
    record Whole(long value) implements RawValue {}

    /** The source sent a status and no value; only with quality bad. */
    record None() implements RawValue {}

    RawValue NONE = new None();

    static RawValue of(double value) {
        return new Decimal(value);
    }

    static RawValue of(long value) {
        return new Whole(value);
    }

    static RawValue of(boolean value) {
        return new Whole(value ? 1 : 0);
    }
}
