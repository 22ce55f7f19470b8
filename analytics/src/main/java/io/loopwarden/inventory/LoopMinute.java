package io.loopwarden.inventory;

import java.util.List;

/**
 * A minute of a loop.
 *
 * @param endS end of the minute, seconds of the epoch
 * @param spans one for each {@link LoopPoint}, in their order; a point that sends changes only is held by the caller
 * @param levels the level's values in time order, one a second at most
 */
public record LoopMinute(long endS, List<Span> spans, List<Double> levels) {

    public static final int SECONDS = 60;

    public LoopMinute {
        spans = List.copyOf(spans);
        levels = List.copyOf(levels);
        if (spans.size() != LoopPoint.COUNT) {
            throw new IllegalArgumentException(spans.size() + " spans, must be " + LoopPoint.COUNT);
        }
    }

    Span of(LoopPoint point) {
        return spans.get(point.ordinal());
    }
}
