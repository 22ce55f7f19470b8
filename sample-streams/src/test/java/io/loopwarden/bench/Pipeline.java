package io.loopwarden.bench;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Intake;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.samplelog.LogLimits;
import io.loopwarden.samplelog.QueuedSampleLog;
import io.loopwarden.store.SampleStore;
import java.sql.SQLException;
import java.time.Clock;
import java.util.concurrent.locks.LockSupport;

/** The way of the service from a collector's readings to committed samples. */
final class Pipeline implements AutoCloseable {

    private static final int RUN_ENDS_AFTER_S = 120;

    private final SampleStore store;
    private final QueuedSampleLog log;
    final RejectLog rejects = new RejectLog(Clock.systemUTC());
    final Intake intake;

    Pipeline(BenchStore database, Connection connection) throws SQLException {
        store = database.open(Clock.systemUTC());
        log = new QueuedSampleLog(store, LogLimits.DEFAULT);
        intake = new Intake(connection, log, rejects, Clock.systemUTC());
    }

    long committed() {
        return log.status().counts().stored();
    }

    /** Waits until so many are committed; answers the seconds since {@code sinceNs}. */
    double awaitCommitted(long samples, long sinceNs) {
        while (committed() < samples) {
            double seconds = (System.nanoTime() - sinceNs) / 1e9;
            if (seconds > RUN_ENDS_AFTER_S) {
                throw new IllegalStateException("after " + seconds + " s " + committed() + " of " + samples
                        + " samples are committed; refused: " + rejects.entries());
            }
            LockSupport.parkNanos(1_000_000);
        }
        return (System.nanoTime() - sinceNs) / 1e9;
    }

    @Override
    public void close() {
        log.close();
        store.close();
    }
}
