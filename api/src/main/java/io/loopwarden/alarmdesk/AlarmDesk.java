package io.loopwarden.alarmdesk;

import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.AlarmEngine;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.Change;
import io.loopwarden.alarm.Facts;
import io.loopwarden.alarm.Flood;
import io.loopwarden.alarm.Incident;
import io.loopwarden.alarm.Incidents;
import io.loopwarden.alarm.Next;
import io.loopwarden.alarm.Transition;
import io.loopwarden.store.alarm.AlarmBatch;
import io.loopwarden.store.alarm.AlarmStore;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.IntSupplier;
import org.jboss.logging.Logger;

/**
 * Runs the alarm engine beside the way of the samples, on a thread of its own: takes what changed, keeps what came of it in one
 * transaction, and only then shows it and tells of it. While the store is away it goes on from memory, up to a bound, and keeps all of
 * it later, in order.
 */
public final class AlarmDesk implements AutoCloseable {

    private static final Logger LOG = Logger.getLogger(AlarmDesk.class);

    /** Where the facts come from. */
    public interface Sources {

        /** Facts of a unit as they are now; empty for one that is not in the fleet. */
        Optional<Facts> unit(String name);

        /** Facts of connections and of the service's own parts, as they are now. */
        List<Facts> parts();
    }

    /** What a person's command came to. */
    public sealed interface Answer {
        record Done(Alarm alarm) implements Answer {}

        record Refused(String reason) implements Answer {}

        /** Done here, and not on disk yet. */
        record NotKept(String reason) implements Answer {}
    }

    private static final Duration PARTS_EVERY = Duration.ofSeconds(1);
    private static final Duration RETRY = Duration.ofSeconds(2);
    /** Transitions that may wait for the store; beyond it nothing is judged until it is back. */
    private static final int MOST_UNKEPT = 50_000;

    private final AlarmEngine engine;
    private final Incidents incidents;
    private final AlarmStore store;
    private final Sources sources;
    private final Clock clock;
    private final IntSupplier operators;
    private final Flood flood = new Flood();
    private final Set<String> changed = new LinkedHashSet<>();
    private final List<Transition> unkeptLines = new ArrayList<>();
    private final Map<AlarmId, Alarm> unkeptAlarms = new LinkedHashMap<>();
    private final Map<String, Incident> unkeptIncidents = new LinkedHashMap<>();
    private final List<Consumer<Snapshot>> listeners = new ArrayList<>();
    private final ScheduledExecutorService thread = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread one = new Thread(task, "alarms");
        one.setDaemon(true);
        return one;
    });
    private Instant partsAt = Instant.EPOCH;
    private Instant retryAt = Instant.EPOCH;
    private long version;
    private volatile Snapshot snapshot = Snapshot.EMPTY;

    public AlarmDesk(
            AlarmEngine engine,
            Incidents incidents,
            AlarmStore store,
            Sources sources,
            Clock clock,
            IntSupplier operators) {
        this.engine = engine;
        this.incidents = incidents;
        this.store = store;
        this.sources = sources;
        this.clock = clock;
        this.operators = operators;
    }

    /** Called on the desk's thread after each round, with what is kept; the round waits for it. */
    public void listen(Consumer<Snapshot> listener) {
        listeners.add(listener);
    }

    /** Goes on from what is kept. */
    public void restore() throws SQLException {
        engine.restore(store.alarms());
        incidents.restore(store.openIncidents());
        Instant now = now();
        store.history(now.minus(Duration.ofMinutes(10)), now.plusSeconds(1)).stream()
                .filter(Transition::annunciates)
                .forEach(line -> flood.raised(line.at()));
        publish(now);
    }

    public void start(Duration every) {
        thread.scheduleWithFixedDelay(this::round, 0, every.toMillis(), TimeUnit.MILLISECONDS);
    }

    /** These units have new figures. Returns at once. */
    public void changed(Collection<String> units) {
        synchronized (changed) {
            changed.addAll(units);
        }
    }

    public Snapshot snapshot() {
        return snapshot;
    }

    /** A person's command; the answer comes once it is on disk. */
    public CompletableFuture<Answer> command(AlarmId id, Function<Instant, Change> change) {
        return CompletableFuture.supplyAsync(() -> apply(id, change), thread);
    }

    private Answer apply(AlarmId id, Function<Instant, Change> change) {
        Instant at = now();
        Change asked;
        try {
            asked = change.apply(at);
        } catch (IllegalArgumentException e) {
            return new Answer.Refused(e.getMessage());
        }
        Next next = engine.command(id, asked);
        if (next instanceof Next.Refused refused) {
            return new Answer.Refused(refused.reason());
        }
        if (next instanceof Next.Changed done) {
            follow(List.of(done.transition()), at);
            boolean kept = keep(at);
            publish(at);
            return kept
                    ? new Answer.Done(done.alarm())
                    : new Answer.NotKept("the store is away: it holds here, and is kept as soon as the store is back");
        }
        return new Answer.Done(engine.alarm(id).orElseThrow());
    }

    private void round() {
        try {
            Instant at = now();
            List<Transition> lines = new ArrayList<>();
            if (unkeptLines.size() < MOST_UNKEPT) {
                if (!partsAt.plus(PARTS_EVERY).isAfter(at)) {
                    partsAt = at;
                    sources.parts().forEach(facts -> lines.addAll(engine.judge(facts)));
                    lines.addAll(engine.passTime(at));
                }
                for (String unit : takeChanged()) {
                    sources.unit(unit).ifPresent(facts -> lines.addAll(engine.judge(facts)));
                }
            }
            follow(lines, at);
            keep(at);
            publish(at);
            listeners.forEach(listener -> listener.accept(snapshot));
        } catch (RuntimeException e) {
            LOG.error("a round of the alarms failed; the next one goes on", e);
        }
    }

    private List<String> takeChanged() {
        synchronized (changed) {
            List<String> taken = List.copyOf(changed);
            changed.clear();
            return taken;
        }
    }

    private void follow(List<Transition> lines, Instant at) {
        for (Transition line : lines) {
            if (line.annunciates()) {
                flood.raised(line.at());
            }
            engine.alarm(line.id()).ifPresent(alarm -> unkeptAlarms.put(alarm.id(), alarm));
        }
        unkeptLines.addAll(lines);
        for (Incident incident : incidents.follow(lines, engine::alarm, at)) {
            unkeptIncidents.put(incident.id(), incident);
        }
    }

    private boolean keep(Instant at) {
        AlarmBatch batch =
                new AlarmBatch(unkeptLines, List.copyOf(unkeptAlarms.values()), List.copyOf(unkeptIncidents.values()));
        if (batch.isEmpty()) {
            return true;
        }
        version++;
        if (retryAt.isAfter(at)) {
            return false;
        }
        try {
            store.append(batch);
        } catch (SQLException e) {
            if (retryAt.equals(Instant.EPOCH)) {
                LOG.errorf("alarms cannot be kept, they go on from memory: %s", e.getMessage());
            }
            retryAt = at.plus(RETRY);
            return false;
        }
        retryAt = Instant.EPOCH;
        unkeptLines.clear();
        unkeptAlarms.clear();
        unkeptIncidents.clear();
        return true;
    }

    private void publish(Instant at) {
        if (version == snapshot.version() && !snapshot.at().equals(Instant.EPOCH)) {
            Snapshot same = snapshot;
            snapshot = new Snapshot(
                    at,
                    version,
                    same.alarms(),
                    same.open(),
                    same.incidentOf(),
                    flood.since(at, operators.getAsInt()),
                    unkeptLines.isEmpty());
            return;
        }
        Map<AlarmId, Alarm> alarms = new TreeMap<>();
        for (Alarm alarm : engine.alarms()) {
            if (alarm.state().stands() || alarm.state().inhibited()) {
                alarms.put(alarm.id(), alarm);
            }
        }
        Map<AlarmId, String> incidentOf = new HashMap<>();
        List<Incident> open = incidents.open();
        open.forEach(incident -> incident.alarms().forEach(alarm -> incidentOf.put(alarm, incident.id())));
        snapshot = new Snapshot(
                at, version, alarms, open, incidentOf, flood.since(at, operators.getAsInt()), unkeptLines.isEmpty());
    }

    /** As fine as the store keeps it. */
    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MICROS);
    }

    @Override
    public void close() {
        thread.shutdown();
        try {
            if (!thread.awaitTermination(10, TimeUnit.SECONDS)) {
                thread.shutdownNow();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
