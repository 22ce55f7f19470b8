package io.loopwarden.store;

import java.sql.SQLException;
import java.time.Duration;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Closes due hours and looks after partitions from a thread of its own, until closed. */
public final class StoreUpkeep implements AutoCloseable {

    private static final Logger LOG = LoggerFactory.getLogger(StoreUpkeep.class);
    private static final Duration KEEP_UP_EVERY = Duration.ofHours(1);
    private static final Duration STOP_WAIT = Duration.ofSeconds(10);

    private interface Task {
        void run() throws SQLException;
    }

    private final ScheduledExecutorService thread;

    public StoreUpkeep(SampleStore store, Duration closeEvery) {
        thread = Executors.newSingleThreadScheduledExecutor(task -> {
            Thread made = new Thread(task, "store-upkeep");
            made.setDaemon(true);
            return made;
        });
        every(closeEvery, store::closeDueHours, "closing hours");
        every(KEEP_UP_EVERY, store::keepUp, "partitions and retention");
    }

    private void every(Duration period, Task task, String what) {
        thread.scheduleWithFixedDelay(
                () -> {
                    try {
                        task.run();
                    } catch (SQLException | RuntimeException e) {
                        LOG.warn("{} failed, comes again in {}: {}", what, period, e.getMessage(), e);
                    }
                },
                period.toMillis(),
                period.toMillis(),
                TimeUnit.MILLISECONDS);
    }

    @Override
    public void close() {
        thread.shutdown();
        try {
            if (!thread.awaitTermination(STOP_WAIT.toMillis(), TimeUnit.MILLISECONDS)) {
                thread.shutdownNow();
            }
        } catch (InterruptedException e) {
            thread.shutdownNow();
            Thread.currentThread().interrupt();
        }
    }
}
