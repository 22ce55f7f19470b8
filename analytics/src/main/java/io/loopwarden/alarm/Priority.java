package io.loopwarden.alarm;

import java.time.Duration;

/** Rank of an alarm, from the least to the most urgent; made of consequence and time to respond as IEC 62682 asks for. */
public enum Priority {
    LOW,
    MEDIUM,
    HIGH;

    /** At most this long to respond: urgent. Common practice, no source. */
    static final Duration URGENT = Duration.ofMinutes(30);

    /** At most this long: within the shift. Common practice, no source. */
    static final Duration SHIFT = Duration.ofHours(8);

    /**
     * The matrix of the rationalisation.
     *
     * <pre>
     *            30 min   8 h    longer
     * severe     high     high   medium
     * major      high     medium low
     * minor      medium   low    low
     * </pre>
     */
    public static Priority of(Severity severity, Duration respondWithin) {
        int rank = severity.ordinal()
                + (respondWithin.compareTo(URGENT) <= 0 ? 2 : respondWithin.compareTo(SHIFT) <= 0 ? 1 : 0);
        return rank >= 3 ? HIGH : rank == 2 ? MEDIUM : LOW;
    }
}
