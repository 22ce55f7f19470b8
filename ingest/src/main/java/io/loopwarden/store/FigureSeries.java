package io.loopwarden.store;

import java.time.Duration;
import java.util.List;

/**
 * One figure of one unit over a range of time.
 *
 * @param step length of every bucket; buckets start at multiples of it since 1970 UTC
 * @param buckets in order; steps in which the unit was not evaluated are left out
 */
public record FigureSeries(Duration step, List<FigureBucket> buckets) {

    public FigureSeries {
        buckets = List.copyOf(buckets);
    }
}
