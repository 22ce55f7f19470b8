package io.loopwarden.indicator;

/** Status signals of NAMUR NE 107, and good for none of them. Ordered from quiet to most urgent: F above C above S above M. */
public enum Ne107 {
    GOOD,
    MAINTENANCE_REQUIRED,
    OUT_OF_SPECIFICATION,
    FUNCTION_CHECK,
    FAILURE;

    Ne107 worse(Ne107 other) {
        return compareTo(other) >= 0 ? this : other;
    }
}
