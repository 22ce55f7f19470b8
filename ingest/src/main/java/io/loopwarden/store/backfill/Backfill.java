package io.loopwarden.store.backfill;

import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.Unit;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.replay.Replay;
import io.loopwarden.replay.ReplaySource;
import io.loopwarden.samplelog.StoreUnavailableException;
import io.loopwarden.store.FigureStore;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.UnitMemories;
import io.loopwarden.watch.UnitFigures;
import io.loopwarden.watch.UnitWatch;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * Brings one unit's past into the store: its samples, the figures a watch would have given, and what the watch remembers at the end.
 * Given again it changes nothing but the memory, which comes out the same.
 */
final class Backfill {

    private static final int SAMPLES_A_BATCH = 40_000;
    private static final int FIGURES_A_BATCH = 500;

    private final SampleStore store;
    private final FigureStore figures;
    private final UnitMemories memories;
    private final Duration every;
    private final List<Sample> scan = new ArrayList<>();
    private final List<Scan> scans = new ArrayList<>();
    private final List<UnitFigures> given = new ArrayList<>();
    private int waiting;
    private long samples;

    Backfill(SampleStore store, FigureStore figures, UnitMemories memories, Duration every) {
        this.store = store;
        this.figures = figures;
        this.memories = memories;
        this.every = every;
    }

    /** What came in. */
    record Done(long samples, Instant until) {}

    /** @throws SQLException if the store refuses; what was stored before stays, and giving the file again goes on */
    Done run(Unit unit, ReplaySource source, List<MaintenanceEntry> entries) throws SQLException {
        UnitWatch watch = new UnitWatch(unit);
        Replay replay = new Replay(watch, every, entries, given::add);
        try {
            source.samples(sample -> {
                take(unit, sample);
                replay.accept(sample);
            });
        } catch (Refused e) {
            throw e.cause;
        }
        close(unit);
        storeScans();
        replay.finish();
        storeFigures();
        Instant until = watch.newestAt().orElse(Instant.EPOCH);
        memories.save(Map.of(unit.id(), watch.memory()), until);
        return new Done(samples, until);
    }

    private void take(Unit unit, Sample sample) {
        if (!scan.isEmpty() && !scan.get(0).measuredAt().equals(sample.measuredAt())) {
            close(unit);
        }
        scan.add(sample);
        if (waiting >= SAMPLES_A_BATCH) {
            try {
                storeScans();
                if (given.size() >= FIGURES_A_BATCH) {
                    storeFigures();
                }
            } catch (SQLException e) {
                throw new Refused(e);
            }
        }
    }

    private void close(Unit unit) {
        if (!scan.isEmpty()) {
            scans.add(new Scan(unit.id(), scan.get(0).measuredAt(), List.copyOf(scan)));
            waiting += scan.size();
            scan.clear();
        }
    }

    private void storeScans() throws SQLException {
        try {
            store.store(scans);
        } catch (StoreUnavailableException e) {
            throw new SQLException("the store went away: " + e.getMessage(), e);
        }
        samples += waiting;
        waiting = 0;
        scans.clear();
    }

    /** After the samples: the store knows a unit by them. */
    private void storeFigures() throws SQLException {
        figures.write(given);
        given.clear();
    }

    /** Carries the store's refusal through a consumer. */
    private static final class Refused extends RuntimeException {
        private static final long serialVersionUID = 1;
        final transient SQLException cause;

        Refused(SQLException cause) {
            super(cause);
            this.cause = cause;
        }
    }
}
