package io.loopwarden.fleetstate;

import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.watch.UnitFigures;
import io.loopwarden.watch.UnitMemory;
import io.loopwarden.watch.UnitWatch;
import io.loopwarden.watch.WatchSettings;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.atomic.AtomicLong;
import org.jboss.logging.Logger;

/** Every unit's watch, fed by scans and evaluated in turn. A unit that fails takes down itself only. */
public final class FleetState {

    private static final Logger LOG = Logger.getLogger(FleetState.class);

    /** Without new samples a unit is evaluated this often all the same, so that what is stale says so. */
    private static final Duration IDLE_EVALUATION = Duration.ofSeconds(2);

    /** Most scans of one unit that wait for its past: more than come during a start. */
    private static final int MOST_WAITING = 1200;

    private static final class Watched {
        final UnitWatch watch;
        volatile UnitNow now;
        boolean dirty;
        Instant evaluatedAt;
        boolean failed;
        /** What came before its past was there; null once it is. */
        Deque<Scan> waiting;

        Watched(UnitWatch watch) {
            this.watch = watch;
        }
    }

    private final Map<UnitId, Watched> watched = new ConcurrentSkipListMap<>();
    private final Clock clock;
    private final WatchSettings settings;
    private final AtomicLong faults = new AtomicLong();

    public FleetState(List<Unit> units, Clock clock) {
        this(units, clock, WatchSettings.DEFAULT);
    }

    public FleetState(List<Unit> units, Clock clock, WatchSettings settings) {
        this.clock = clock;
        this.settings = settings;
        units.forEach(this::add);
    }

    /** Watches one more unit; one that is watched already stays as it is. */
    public void add(Unit unit) {
        Instant at = clock.instant();
        Watched one = new Watched(new UnitWatch(unit, settings));
        one.now = evaluated(one.watch, at);
        one.evaluatedAt = at;
        watched.putIfAbsent(unit.id(), one);
    }

    /** Takes a scan; one of a unit that is not in the fleet is left out. */
    public void accept(Scan scan) {
        Watched one = watched.get(scan.unit());
        if (one == null) {
            return;
        }
        synchronized (one) {
            if (one.waiting == null) {
                take(one, scan);
                return;
            }
            if (one.waiting.size() == MOST_WAITING) {
                one.waiting.remove();
            }
            one.waiting.add(scan);
        }
    }

    /** From now on every unit's scans wait, and it is not judged, until its {@link #past} is given. */
    public void awaitPast() {
        for (Watched one : watched.values()) {
            synchronized (one) {
                one.waiting = new ArrayDeque<>();
            }
        }
    }

    /** Gives a unit its stored samples, in order of time; then what came meanwhile. */
    public void past(UnitId unit, List<Sample> samples) {
        Watched one = watched.get(unit);
        synchronized (one) {
            if (!samples.isEmpty()) {
                take(one, new Scan(unit, clock.instant(), samples));
            }
            one.waiting.forEach(scan -> take(one, scan));
            one.waiting = null;
        }
    }

    private void take(Watched one, Scan scan) {
        guarded(one, () -> one.watch.accept(scan));
        one.dirty = true;
    }

    /** What each unit's watch remembers. */
    public Map<UnitId, UnitMemory> memories() {
        Map<UnitId, UnitMemory> memories = new TreeMap<>();
        watched.forEach((id, one) -> {
            synchronized (one) {
                memories.put(id, one.watch.memory());
            }
        });
        return memories;
    }

    /** What the unit's watch remembers. */
    public Optional<UnitMemory> memory(UnitId unit) {
        Watched one = watched.get(unit);
        if (one == null) {
            return Optional.empty();
        }
        synchronized (one) {
            return Optional.of(one.watch.memory());
        }
    }

    /** A unit goes on from what was remembered of it; for the time before its first samples. */
    public void restore(UnitId unit, UnitMemory memory) {
        Watched one = watched.get(unit);
        synchronized (one) {
            one.watch.restore(memory);
        }
    }

    /** Takes an entry of the maintenance log; one of a unit that is not in the fleet is left out. */
    public void accept(MaintenanceEntry entry) {
        Watched one = watched.get(entry.unit());
        if (one == null) {
            return;
        }
        synchronized (one) {
            guarded(one, () -> one.watch.accept(entry));
            one.dirty = true;
        }
    }

    /** Evaluates what has new samples, and answers which units changed. */
    public List<UnitId> evaluate() {
        Instant at = clock.instant();
        List<UnitId> changed = new ArrayList<>();
        for (Map.Entry<UnitId, Watched> entry : watched.entrySet()) {
            Watched one = entry.getValue();
            synchronized (one) {
                boolean known = one.waiting == null;
                if (known && (one.dirty || Duration.between(one.evaluatedAt, at).compareTo(IDLE_EVALUATION) >= 0)) {
                    one.dirty = false;
                    one.evaluatedAt = at;
                    guarded(one, () -> one.now = evaluated(one.watch, at));
                    changed.add(entry.getKey());
                }
            }
        }
        return changed;
    }

    public Optional<UnitNow> unit(UnitId id) {
        return Optional.ofNullable(watched.get(id)).map(one -> one.now);
    }

    /** All units, by name. */
    public Collection<UnitNow> units() {
        return watched.values().stream().map(one -> one.now).toList();
    }

    /** How often a unit's watch failed: a fault of ours, in the log with its cause. */
    public long faultCount() {
        return faults.get();
    }

    private void guarded(Watched one, Runnable work) {
        try {
            work.run();
            one.failed = false;
        } catch (RuntimeException e) {
            faults.incrementAndGet();
            if (!one.failed) {
                one.failed = true;
                LOG.errorf(
                        e,
                        "watching unit %s failed; the others go on",
                        one.watch.unit().id());
            }
        }
    }

    private static UnitNow evaluated(UnitWatch watch, Instant at) {
        UnitFigures figures = watch.evaluate(at);
        return new UnitNow(watch.unit(), watch.design(), figures, watch.newestAt());
    }
}
