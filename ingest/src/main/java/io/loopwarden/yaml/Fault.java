package io.loopwarden.yaml;

import java.util.Comparator;
import java.util.Objects;

/**
 * What is wrong in a file, and where.
 *
 * @param file as a person would name it, for example {@code maps/quillmere.yaml}
 * @param line from 1
 * @param field path of the field, for example {@code points[3].unit}; empty for the document as a whole
 * @param message one sentence: the value, why it cannot be used, what to write instead
 */
public record Fault(String file, int line, String field, String message) implements Comparable<Fault> {

    private static final Comparator<Fault> ORDER = Comparator.comparing(Fault::file)
            .thenComparingInt(Fault::line)
            .thenComparing(Fault::field)
            .thenComparing(Fault::message);

    public Fault {
        Objects.requireNonNull(file, "file");
        Objects.requireNonNull(field, "field");
        Objects.requireNonNull(message, "message");
        if (line < 1) {
            throw new IllegalArgumentException("line " + line + " of " + file + " is not 1 or more");
        }
    }

    @Override
    public int compareTo(Fault other) {
        return ORDER.compare(this, other);
    }

    @Override
    public String toString() {
        return file + ":" + line + " " + (field.isEmpty() ? "" : field + ": ") + message;
    }
}
