package io.loopwarden.service;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetstate.FleetState;
import io.loopwarden.store.UnitMemories;
import io.loopwarden.watch.UnitMemory;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.jboss.logging.Logger;

/** Keeps what the watches remember in the store: gives it back at start, saves what changed every few minutes and at stop. */
final class MemoryKeeper implements AutoCloseable {

    private static final Logger LOG = Logger.getLogger(MemoryKeeper.class);
    private static final Duration SAVE_EVERY = Duration.ofMinutes(3);
    private static final Duration STOP_WAIT = Duration.ofSeconds(10);

    private final UnitMemories store;
    private final FleetState fleet;
    private final Clock clock;
    private final Map<UnitId, UnitMemory> saved = new HashMap<>();
    private final ScheduledExecutorService thread = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread made = new Thread(task, "unit-memory");
        made.setDaemon(true);
        return made;
    });

    MemoryKeeper(UnitMemories store, FleetState fleet, Clock clock) {
        this.store = store;
        this.fleet = fleet;
        this.clock = clock;
    }

    /** Every watch goes on from what was saved; what cannot be read is told and begins anew. */
    void restore() {
        fleet.memories().forEach((unit, fresh) -> {
            try {
                store.load(unit, fresh).ifPresent(decoded -> {
                    decoded.faults()
                            .forEach(fault -> LOG.warnf("what was remembered of %s begins anew: %s", unit, fault));
                    fleet.restore(unit, decoded.memory());
                });
            } catch (SQLException e) {
                throw new IllegalStateException("what is remembered of " + unit + " cannot be read back", e);
            }
        });
        saved.putAll(fleet.memories());
    }

    void start() {
        thread.scheduleWithFixedDelay(this::save, SAVE_EVERY.toMillis(), SAVE_EVERY.toMillis(), TimeUnit.MILLISECONDS);
    }

    private synchronized void save() {
        Map<UnitId, UnitMemory> changed = new HashMap<>(fleet.memories());
        changed.entrySet().removeIf(now -> now.getValue().equals(saved.get(now.getKey())));
        if (changed.isEmpty()) {
            return;
        }
        try {
            store.save(changed, clock.instant());
            saved.putAll(changed);
        } catch (SQLException | RuntimeException e) {
            LOG.warnf(
                    e,
                    "what is remembered of %d units could not be saved; comes again in %s",
                    changed.size(),
                    SAVE_EVERY);
        }
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
        save();
    }
}
