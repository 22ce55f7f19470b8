package io.loopwarden.store;

import java.time.Duration;
import java.util.List;

/**
 * One point over a range of time, as many steps as asked for at most.
 *
 * @param step length of every bucket; buckets start at multiples of it since 1970 UTC
 * @param buckets in order; steps without any sample are left out
 */
public record Series(Duration step, List<Bucket> buckets) {

    public Series {
        buckets = List.copyOf(buckets);
    }
}
