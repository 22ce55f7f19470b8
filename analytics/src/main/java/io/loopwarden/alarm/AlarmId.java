package io.loopwarden.alarm;

import java.util.Objects;

/**
 * Which alarm: one definition at one source.
 *
 * @param source a unit's name, {@code connection:<name>} or {@code service:<part>}; a unit's name never holds a colon
 * @param definition key of the definition
 */
public record AlarmId(String source, String definition) implements Comparable<AlarmId> {

    public AlarmId {
        Objects.requireNonNull(source, "source");
        Objects.requireNonNull(definition, "definition");
        if (source.isBlank() || definition.isBlank() || source.contains("/") || definition.contains("/")) {
            throw new IllegalArgumentException("'" + source + "/" + definition + "' is not <source>/<definition>");
        }
    }

    /** Reads {@code E-07/tray-wet}. */
    public static AlarmId parse(String text) {
        int slash = text.indexOf('/');
        return new AlarmId(slash < 0 ? "" : text.substring(0, slash), text.substring(slash + 1));
    }

    public static String connection(String name) {
        return "connection:" + name;
    }

    public static String service(String part) {
        return "service:" + part;
    }

    @Override
    public int compareTo(AlarmId other) {
        int bySource = source.compareTo(other.source);
        return bySource != 0 ? bySource : definition.compareTo(other.definition);
    }

    @Override
    public String toString() {
        return source + "/" + definition;
    }
}
