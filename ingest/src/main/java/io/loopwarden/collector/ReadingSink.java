package io.loopwarden.collector;

import io.loopwarden.fleet.UnitId;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CompletableFuture;

/** Where collectors hand on what they read. Safe for several threads. */
@FunctionalInterface
public interface ReadingSink {

    /**
     * Takes what came together from one unit. Blocks for a bounded time when the sample log is full.
     *
     * @return completes when every sample that was not refused is on disk, so that a source that waits for an acknowledgement may
     *     get it; fails if it could not be kept, and then the source must not be told it was
     */
    CompletableFuture<Void> accept(UnitId unit, Instant receivedAt, List<RawReading> readings);
}
