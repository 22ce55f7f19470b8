package io.loopwarden.collector;

import java.time.Duration;
import java.util.Objects;
import java.util.random.RandomGenerator;

/**
 * How long to wait before the next attempt: doubles with each failure up to a limit, the upper half of it by chance,
 * so that many collectors that lost the same gateway do not come back in step.
 *
 * @param first after the first failure
 * @param longest limit of the growth
 */
public record Backoff(Duration first, Duration longest) {

    public static final Backoff DEFAULT = new Backoff(Duration.ofMillis(500), Duration.ofSeconds(30));

    public Backoff {
        Objects.requireNonNull(first, "first");
        Objects.requireNonNull(longest, "longest");
        if (first.toMillis() < 1 || longest.compareTo(first) < 0) {
            throw new IllegalArgumentException("back-off from " + first + " to " + longest
                    + ": the first wait must be 1 ms or more, the longest not shorter than the first");
        }
    }

    /** @param failures attempts that failed in a row, at least 1 */
    public Duration delay(int failures, RandomGenerator random) {
        int doublings = Math.min(Math.max(failures, 1) - 1, 30);
        double fullMs = Math.min((double) longest.toMillis(), first.toMillis() * (double) (1L << doublings));
        return Duration.ofMillis(Math.max(1, Math.round(fullMs * (0.5 + 0.5 * random.nextDouble()))));
    }
}
