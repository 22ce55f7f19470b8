package io.loopwarden.collector;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.LongRange;

class BackoffProperties {

    @Property
    void staysBetweenHalfAndFullOfTheDoubledWaitAndNeverAboveTheLimit(
            @ForAll @IntRange(min = 1, max = 1_000_000) int failures,
            @ForAll @LongRange(min = 1, max = 60_000) long firstMs,
            @ForAll @LongRange(min = 0, max = 3_600_000) long moreMs,
            @ForAll long seed) {
        long longestMs = firstMs + moreMs;
        long delayMs = new Backoff(Duration.ofMillis(firstMs), Duration.ofMillis(longestMs))
                .delay(failures, new Random(seed))
                .toMillis();
        double fullMs = Math.min(longestMs, firstMs * Math.pow(2, failures - 1.0));
        assertThat((double) delayMs).isBetween(Math.floor(fullMs / 2), Math.ceil(fullMs));
    }
}
