package io.loopwarden.hydraulics;

/**
 * A filter's loading changed at once, at a flow that explains nothing.
 *
 * @param from loading before, over clean
 * @param to loading after
 * @param confirmed somebody wrote that it was looked at
 */
public record FilterEvent(Kind kind, double atEpochS, double from, double to, boolean confirmed) {

    /** What a step looks like. */
    public enum Kind {
        /** Up: debris came. */
        DEBRIS,
        /** Down beside clean: bypassed, burst, or left open after service. */
        BYPASS,
        /** Down to clean: a new or cleaned element. */
        CHANGE_OUT
    }

    FilterEvent confirm() {
        return new FilterEvent(kind, atEpochS, from, to, true);
    }
}
