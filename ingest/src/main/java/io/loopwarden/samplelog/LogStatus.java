package io.loopwarden.samplelog;

import java.time.Duration;
import java.util.Optional;

/**
 * How a sample log is doing.
 *
 * @param queuedScans scans waiting to be stored, those being written included
 * @param appendedScans scans taken since start
 * @param refusedScans scans refused because the log was full or closed
 * @param counts what became of the samples
 * @param failures failed attempts to store, since start
 * @param lastError why the last attempt failed; empty once one succeeds
 * @param lastWrite time the last batch took
 * @param longestWrite longest time a batch took
 * @param droppedForListeners scans that slow listeners missed
 */
public record LogStatus(
        int queuedScans,
        int queuedSamples,
        long appendedScans,
        long refusedScans,
        StoredCounts counts,
        long failures,
        Optional<String> lastError,
        Duration lastWrite,
        Duration longestWrite,
        long droppedForListeners) {

    /** Together with what the store's spool did meanwhile. */
    public LogStatus with(SpooledStore.Status store) {
        return new LogStatus(
                queuedScans,
                queuedSamples,
                appendedScans,
                refusedScans,
                counts.plus(store.counts()),
                failures + store.failures(),
                lastError.or(store::error),
                lastWrite,
                longestWrite,
                droppedForListeners);
    }
}
