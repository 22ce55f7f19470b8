package io.loopwarden.service;

import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetstate.FleetState;
import io.loopwarden.store.SampleReader;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.jboss.logging.Logger;

/**
 * After a restart gives every watch its last minutes from the store, as if nothing had happened. From a thread of its own, so that
 * the start does not wait: what comes of a unit meanwhile waits for its past.
 */
final class PastReader implements AutoCloseable {

    private static final Logger LOG = Logger.getLogger(PastReader.class);

    /** As long as a watch looks back. */
    private static final Duration WATCH_MEMORY = Duration.ofMinutes(15);

    private static final Duration STOP_WAIT = Duration.ofSeconds(10);

    private final FleetState fleet;
    private final SampleReader reader;
    private final Clock clock;
    private final Thread thread;
    private volatile boolean closing;

    PastReader(FleetState fleet, SampleReader reader, Clock clock, List<Unit> units) {
        this.fleet = fleet;
        this.reader = reader;
        this.clock = clock;
        this.thread = new Thread(() -> read(units), "past-reader");
        thread.setDaemon(true);
        fleet.awaitPast();
    }

    void start() {
        thread.start();
    }

    private void read(List<Unit> units) {
        for (Unit unit : units) {
            if (closing) {
                return;
            }
            fleet.past(unit.id(), lastMinutes(unit.id()));
        }
    }

    private List<Sample> lastMinutes(UnitId unit) {
        List<Sample> recent = new ArrayList<>();
        try {
            Instant now = clock.instant();
            reader.samples(unit, now.minus(WATCH_MEMORY), now, recent::add);
        } catch (SQLException e) {
            LOG.warnf(e, "the last minutes of %s cannot be read back; its watch begins anew", unit);
        }
        return recent;
    }

    @Override
    public void close() {
        closing = true;
        try {
            thread.join(STOP_WAIT.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
