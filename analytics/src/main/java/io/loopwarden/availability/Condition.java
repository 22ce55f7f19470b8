package io.loopwarden.availability;

/** What a unit does at one time, as far as it is known. */
public enum Condition {
    /** As promised. */
    RUNNING,
    /** It runs, and cannot do all it promised. */
    DEGRADED,
    /** It does what it promised, with nothing in reserve for a pump that fails. */
    REDUNDANCY_LOST,
    /** It does not cool, unplanned. */
    DOWN,
    /** Taken out of use on purpose, as the maintenance log says. */
    OUT_OF_USE,
    /** Nothing is known of it. Never counted as up. */
    UNKNOWN;

    /** It cools. */
    public boolean isUp() {
        return this == RUNNING || this == DEGRADED || this == REDUNDANCY_LOST;
    }
}
