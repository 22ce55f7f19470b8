package io.loopwarden.service;

import io.loopwarden.fleetstate.FleetState;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.store.FigureStore;
import io.loopwarden.watch.UnitFigures;
import java.sql.SQLException;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.jboss.logging.Logger;

/** Stores every unit's figures once a minute, from a thread of its own: the way of a sample does not wait for it. */
final class FigureKeeper implements AutoCloseable {

    private static final Logger LOG = Logger.getLogger(FigureKeeper.class);
    private static final Duration EVERY = Duration.ofMinutes(1);
    private static final Duration FIRST = Duration.ofSeconds(10);
    private static final Duration UPKEEP_EVERY = Duration.ofMinutes(10);
    private static final Duration STOP_WAIT = Duration.ofSeconds(5);

    private interface Task {
        void run() throws SQLException;
    }

    private final FleetState fleet;
    private final FigureStore store;
    private final ScheduledExecutorService thread = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread made = new Thread(task, "figures");
        made.setDaemon(true);
        return made;
    });

    FigureKeeper(FleetState fleet, FigureStore store) {
        this.fleet = fleet;
        this.store = store;
    }

    void start() {
        every(EVERY, FIRST, this::keep, "storing figures");
        every(
                UPKEEP_EVERY,
                UPKEEP_EVERY,
                () -> {
                    store.closeDays();
                    store.keepUp();
                },
                "rolling up figures");
    }

    private void keep() throws SQLException {
        List<UnitFigures> figures = fleet.units().stream()
                .filter(now -> now.lastSampleAt().isPresent())
                .map(UnitNow::figures)
                .toList();
        store.write(figures);
    }

    private void every(Duration period, Duration first, Task task, String what) {
        thread.scheduleAtFixedRate(
                () -> {
                    try {
                        task.run();
                    } catch (SQLException | RuntimeException e) {
                        LOG.warnf(e, "%s failed, comes again in %s", what, period);
                    }
                },
                first.toMillis(),
                period.toMillis(),
                TimeUnit.MILLISECONDS);
    }

    @Override
    public void close() {
        thread.shutdownNow();
        try {
            if (!thread.awaitTermination(STOP_WAIT.toMillis(), TimeUnit.MILLISECONDS)) {
                LOG.warn("figures were still being stored at the stop");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
