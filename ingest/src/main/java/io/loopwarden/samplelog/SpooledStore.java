package io.loopwarden.samplelog;

import io.loopwarden.fleet.Scan;
import io.loopwarden.spool.Spool;
import io.loopwarden.spool.SpoolStatus;
import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A store with a spool before it. As long as the store takes scans in good time they go straight to it; once it fails or dawdles they go
 * to the spool and the oldest are stored first, until nothing is held. Either way what {@link #store} returns from is on disk.
 */
public final class SpooledStore implements ScanStore, AutoCloseable {

    private static final Logger LOG = LoggerFactory.getLogger(SpooledStore.class);

    /** A store that takes longer for a batch is treated as away, so that sources need not wait for it. */
    private static final Duration SLOW_AFTER = Duration.ofSeconds(5);

    private static final Duration CLOSE_WAIT = Duration.ofSeconds(10);

    /**
     * How the way to the store is.
     *
     * @param counts what became of samples that went through the spool
     * @param failures attempts to store that failed, those from the spool included
     * @param unstorable scans the store cannot take at all, a fault of ours; they are logged and left out
     * @param error why samples go to the spool; empty when they go straight to the store
     */
    public record Status(
            SpoolStatus spool, StoredCounts counts, long failures, long unstorable, Optional<String> error) {}

    private final ScanStore store;
    private final Spool spool;
    private final LogLimits limits;
    private final ExecutorService storing = Executors.newSingleThreadExecutor(task -> {
        Thread thread = new Thread(task, "store-writer");
        thread.setDaemon(true);
        return thread;
    });

    private boolean spooling;
    private StoredCounts counts = StoredCounts.NONE;
    private long failures;
    private long unstorable;
    private String error;

    public SpooledStore(ScanStore store, Spool spool, LogLimits limits) {
        this.store = store;
        this.spool = spool;
        this.limits = limits;
        if (!spool.isEmpty()) {
            begin("samples of an earlier run wait in the spool");
        }
    }

    @Override
    public StoredCounts store(List<Scan> scans) throws StoreUnavailableException {
        if (!isSpooling()) {
            try {
                return straight(scans);
            } catch (StoreUnavailableException e) {
                synchronized (this) {
                    failures++;
                }
                begin(e.getMessage());
            }
        }
        return keep(scans);
    }

    private synchronized boolean isSpooling() {
        return spooling;
    }

    private StoredCounts straight(List<Scan> scans) throws StoreUnavailableException {
        Future<StoredCounts> attempt = storing.submit(() -> store.store(scans));
        try {
            return attempt.get(SLOW_AFTER.toMillis(), TimeUnit.MILLISECONDS);
        } catch (TimeoutException e) {
            throw new StoreUnavailableException(
                    "the store did not take a batch within " + SLOW_AFTER.toSeconds() + " s", e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new StoreUnavailableException("the service stops before the store has answered", e);
        } catch (ExecutionException e) {
            if (e.getCause() instanceof StoreUnavailableException unavailable) {
                throw unavailable;
            }
            throw new IllegalStateException(e.getCause());
        }
    }

    private synchronized StoredCounts keep(List<Scan> scans) throws StoreUnavailableException {
        try {
            spool.append(scans);
        } catch (IOException e) {
            throw new StoreUnavailableException(e.getMessage() + "; store: " + error, e);
        }
        if (!spooling) { // Drained between the attempt and now.
            begin("a batch went to the spool");
        }
        return StoredCounts.NONE;
    }

    private synchronized void begin(String why) {
        if (!spooling) {
            spooling = true;
            error = why;
            LOG.warn("samples go to the spool: {}", why);
            storing.submit(this::drain);
        }
    }

    /** Stores the oldest first until nothing is held. */
    private void drain() {
        Duration wait = limits.retryFirst();
        try {
            while (!ended()) {
                if (drainSome()) {
                    wait = limits.retryFirst();
                } else {
                    TimeUnit.NANOSECONDS.sleep(wait.toNanos());
                    wait = wait.multipliedBy(2).compareTo(limits.retryMost()) < 0
                            ? wait.multipliedBy(2)
                            : limits.retryMost();
                }
            }
        } catch (InterruptedException e) {
            LOG.info(
                    "the service stops with {} samples in the spool; they are stored after the next start",
                    spool.status().heldSamples());
        }
    }

    private synchronized boolean ended() {
        if (spool.isEmpty()) {
            spooling = false;
            error = null;
            LOG.info("the spool is empty; samples go straight to the store again");
        }
        return !spooling;
    }

    private boolean drainSome() {
        try {
            Spool.Batch batch = spool.oldest(limits.flushSamples());
            if (!batch.scans().isEmpty()) {
                StoredCounts stored = storeAll(batch.scans());
                synchronized (this) {
                    counts = counts.plus(stored);
                }
                spool.stored(batch);
            }
            return true;
        } catch (StoreUnavailableException | IOException e) {
            synchronized (this) {
                failures++;
                error = e.getMessage();
            }
            return false;
        }
    }

    private StoredCounts storeAll(List<Scan> scans) throws StoreUnavailableException {
        try {
            return store.store(scans);
        } catch (RuntimeException bug) {
            LOG.error("{} spooled scans could not be stored as a whole, trying one by one", scans.size(), bug);
            return storeOneByOne(scans);
        }
    }

    /** A fault of ours with one scan must not stop the others. */
    private StoredCounts storeOneByOne(List<Scan> scans) throws StoreUnavailableException {
        StoredCounts stored = StoredCounts.NONE;
        for (Scan scan : scans) {
            try {
                stored = stored.plus(store.store(List.of(scan)));
            } catch (RuntimeException bug) {
                LOG.error("a spooled scan of {} cannot be stored", scan.unit(), bug);
                synchronized (this) {
                    unstorable++;
                }
            }
        }
        return stored;
    }

    public synchronized Status status() {
        return new Status(spool.status(), counts, failures, unstorable, Optional.ofNullable(error));
    }

    /** Ends at once; what the spool holds is stored after the next start. */
    @Override
    public void close() {
        storing.shutdownNow();
        try {
            storing.awaitTermination(CLOSE_WAIT.toMillis(), TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        spool.close();
    }
}
