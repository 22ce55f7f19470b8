package io.loopwarden.setup;

import java.util.List;
import java.util.Objects;

/**
 * Something about a map that physics speaks against.
 *
 * @param kind {@code swapped}, {@code unit}, {@code sign} or {@code doubtful}
 * @param sentence what is seen, why it cannot be, what is likely
 * @param points the points concerned
 * @param remedy the lines as they would have to be; empty where only a person can tell
 */
public record Finding(String kind, String sentence, List<String> points, List<MapLine> remedy) {

    public Finding {
        Objects.requireNonNull(kind, "kind");
        Objects.requireNonNull(sentence, "sentence");
        points = List.copyOf(points);
        remedy = List.copyOf(remedy);
    }
}
