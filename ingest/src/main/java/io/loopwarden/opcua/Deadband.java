package io.loopwarden.opcua;

import java.util.Objects;

/**
 * How far a value must move before the server reports it (OPC UA Part 4, 7.22.2).
 *
 * @param value in the source's unit for {@code ABSOLUTE}; percent of the node's EURange for {@code PERCENT}; 0 for
 *     {@code NONE}
 */
record Deadband(Kind kind, double value) {

    enum Kind {
        NONE,
        ABSOLUTE,
        PERCENT
    }

    static final Deadband NONE = new Deadband(Kind.NONE, 0);

    Deadband {
        Objects.requireNonNull(kind, "kind");
        boolean fits = switch (kind) {
            case NONE -> value == 0;
            case ABSOLUTE -> value > 0 && Double.isFinite(value);
            case PERCENT -> value > 0 && value <= 100;
        };
        if (!fits) {
            throw new IllegalArgumentException("deadband " + kind + " cannot be " + value);
        }
    }

    /** Reads {@code none}, {@code absolute 0.1} or {@code percent 0.5}. */
    static Deadband parse(String text) {
        String[] words = text.trim().split("\\s+");
        if (words.length == 1 && words[0].equals("none")) {
            return NONE;
        }
        if (words.length == 2 && (words[0].equals("absolute") || words[0].equals("percent"))) {
            return new Deadband(
                    words[0].equals("absolute") ? Kind.ABSOLUTE : Kind.PERCENT, Double.parseDouble(words[1]));
        }
        throw new IllegalArgumentException("not a deadband: " + text);
    }
}
