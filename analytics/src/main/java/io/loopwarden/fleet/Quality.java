package io.loopwarden.fleet;

import java.util.Objects;

/**
 * How far a value can be believed, as its source said.
 *
 * @param level good, uncertain or bad
 * @param code the protocol's own code, kept as received: an OPC UA status code, a Modbus exception code, a Sparkplug quality;
 *     unsigned 32 bits, 0 where the protocol has none
 */
public record Quality(Level level, long code) {

    public enum Level {
        GOOD,
        UNCERTAIN,
        BAD
    }

    public static final Quality GOOD = new Quality(Level.GOOD, 0);

    public Quality {
        Objects.requireNonNull(level, "level");
        if (code < 0 || code > 0xFFFF_FFFFL) {
            throw new IllegalArgumentException("quality code " + code + " is not in 0 to 4294967295");
        }
    }

    public boolean isGood() {
        return level == Level.GOOD;
    }
}
