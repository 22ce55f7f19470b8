package io.loopwarden.inventory;

/**
 * What a point showed within a minute.
 *
 * @param count of good values; the others are 0 where it is 0
 * @param bad values that the source itself called bad
 */
public record Span(double mean, double least, double most, double last, int count, int bad) {

    public static final Span NONE = new Span(0, 0, 0, 0, 0, 0);

    boolean seen() {
        return count > 0;
    }
}
