package io.loopwarden.alarm;

import java.util.Objects;

/**
 * What a condition says at one instant.
 *
 * @param sentence the evidence in words
 */
public record Verdict(Kind kind, String sentence) {

    public enum Kind {
        /** Beyond the limit. */
        BEYOND,
        /** On the good side of the limit, but not by the deadband. */
        WITHIN_DEADBAND,
        /** On the good side of the limit by the deadband or more. */
        GOOD,
        /** There is no value: this neither raises nor clears. */
        UNKNOWN
    }

    public Verdict {
        Objects.requireNonNull(kind, "kind");
        Objects.requireNonNull(sentence, "sentence");
    }
}
