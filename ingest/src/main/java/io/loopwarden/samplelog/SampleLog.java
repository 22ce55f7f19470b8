package io.loopwarden.samplelog;

import io.loopwarden.fleet.Scan;
import java.util.concurrent.CompletableFuture;

/** Takes scans, keeps each unit's in order, and hands them to the store and to whoever listens. */
public interface SampleLog extends AutoCloseable {

    /**
     * Appends one scan. Waits for a bounded time when full.
     *
     * @return completes when the scan is on disk; fails with {@link LogFullException} if there was no room in time
     */
    CompletableFuture<Void> append(Scan scan);

    @Override
    void close();
}
