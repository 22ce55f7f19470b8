package io.loopwarden.statistics;

/** A figure that no finite number can state: what it was worked out from cannot be true. */
public final class NotFiniteException extends IllegalArgumentException {

    private static final long serialVersionUID = 1;

    NotFiniteException(String message) {
        super(message);
    }
}
