package io.loopwarden.modbus;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ConnectionStatus;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Polls the units behind one Modbus TCP connection at a fixed rate.
 *
 * <p>Everything runs in one thread of its own; requests of different units are on the line at once, so that a unit that does not
 * answer holds up no other. A unit whose round is not over when the next is due skips that one.
 */
public final class ModbusCollector implements Collector {

    private static final Logger LOG = LoggerFactory.getLogger(ModbusCollector.class);
    private static final Duration CLOSE_PATIENCE = Duration.ofSeconds(10);

    private record Condition(State state, Instant since, String detail) {}

    private final Connection connection;
    private final ModbusSettings settings;
    private final ReadingSink sink;
    private final Clock clock;
    private final List<PolledUnit> units;
    private final ScheduledThreadPoolExecutor worker;
    private final SplittableRandom random = new SplittableRandom();
    private volatile Condition condition;
    private volatile Optional<Instant> lastDataAt = Optional.empty();
    private boolean started;

    // Touched by the worker only, and by close() once the worker has ended.
    private ModbusLink link;
    private int failures;
    private PollGrid grid;

    public ModbusCollector(
            Connection connection, ModbusSettings settings, ReadingSink sink, RejectLog rejects, Clock clock) {
        this.connection = Objects.requireNonNull(connection, "connection");
        this.settings = Objects.requireNonNull(settings, "settings");
        this.sink = Objects.requireNonNull(sink, "sink");
        this.clock = Objects.requireNonNull(clock, "clock");
        this.units = connection.units().stream()
                .map(served -> new PolledUnit(served, connection.name(), settings, rejects))
                .toList();
        this.condition = new Condition(State.CONNECTING, clock.instant(), "");
        this.worker = new ScheduledThreadPoolExecutor(1, task -> {
            Thread thread = new Thread(task, "modbus " + connection.name());
            thread.setDaemon(true);
            return thread;
        });
        worker.setExecuteExistingDelayedTasksAfterShutdownPolicy(false);
    }

    @Override
    public synchronized void start() {
        if (!started && condition.state() != State.CLOSED) {
            started = true;
            run(this::connect);
        }
    }

    @Override
    public ConnectionStatus status() {
        Condition now = condition;
        return new ConnectionStatus(
                connection.name(), connection.protocol(), now.state(), now.since(), lastDataAt, now.detail());
    }

    @Override
    public synchronized void close() {
        if (condition.state() == State.CLOSED) {
            return;
        }
        worker.shutdown();
        try {
            if (worker.awaitTermination(CLOSE_PATIENCE.toMillis(), TimeUnit.MILLISECONDS) && link != null) {
                ModbusLink last = link;
                link = null;
                last.disconnect().get(CLOSE_PATIENCE.toMillis(), TimeUnit.MILLISECONDS);
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        } catch (Exception alreadyGone) {
            LOG.debug("{}: closing", connection.name(), alreadyGone);
        }
        become(State.CLOSED, "");
    }

    private void connect() {
        ModbusLink[] made = new ModbusLink[1];
        made[0] = new ModbusLink(
                connection.endpoint(), settings, clock, () -> run(() -> lost(made[0], "connection lost")));
        link = made[0];
        link.connect()
                .whenComplete((connected, failure) -> run(() -> {
                    if (made[0] == link) {
                        if (failure == null) {
                            connected();
                        } else {
                            lost(made[0], Reasons.of(failure));
                        }
                    }
                }));
    }

    private void connected() {
        if (units.isEmpty()) {
            become(State.CONNECTED, "");
        }
        units.forEach(PolledUnit::answered);
        long jitterNs = random.nextLong(1 + Math.min(settings.pollInterval().toNanos(), TimeUnit.SECONDS.toNanos(1)));
        grid = new PollGrid(
                System.nanoTime() + jitterNs, settings.pollInterval().toNanos());
        ModbusLink of = link;
        later(jitterNs, () -> tick(of));
    }

    /** Begins the rounds that are due and sets the next tick. */
    private void tick(ModbusLink of) {
        if (of != link) {
            return;
        }
        Instant now = clock.instant();
        units.stream().filter(unit -> unit.isDue(now)).forEach(unit -> begin(of, unit));
        later(grid.delayNs(System.nanoTime()), () -> tick(of));
    }

    private void begin(ModbusLink of, PolledUnit unit) {
        Instant now = clock.instant();
        UnitRound round = new UnitRound(of, unit, unit.dueBlocks(now), clock, worker);
        unit.round(round);
        List<RawReading> refused = unit.refusedReadings(now);
        round.run().whenComplete((end, failure) -> {
            if (of == link && unit.round() == round) {
                unit.round(null);
                if (failure != null) {
                    lost(of, Reasons.of(failure));
                } else {
                    end(of, unit, round, end, refused);
                }
            }
        });
    }

    private void end(ModbusLink of, PolledUnit unit, UnitRound round, UnitRound.End end, List<RawReading> refused) {
        if (end == UnitRound.End.BROKEN) {
            lost(of, "connection lost");
            return;
        }
        round.lastAnswerAt().ifPresent(at -> lastDataAt = Optional.of(at));
        if (end == UnitRound.End.SILENT) {
            Duration wait = settings.reconnect().delay(unit.silent(), random);
            unit.leaveAloneUntil(clock.instant().plus(wait));
        } else {
            failures = 0;
            unit.answered();
        }
        List<RawReading> readings = new ArrayList<>(round.readings());
        readings.addAll(refused);
        handOn(unit, readings);
        boolean nobodyAnswers = units.stream().allMatch(PolledUnit::isSilent);
        if (nobodyAnswers && round.lastAnswerAt().isEmpty()) {
            lost(of, "no unit answers within " + settings.timeout());
        } else {
            become(round.lastAnswerAt().isPresent() ? State.CONNECTED : condition.state(), trouble());
        }
    }

    private String trouble() {
        List<String> silent = units.stream()
                .filter(PolledUnit::isSilent)
                .map(unit -> unit.id() + " (Modbus unit " + unit.number() + ")")
                .toList();
        int refused = units.stream().mapToInt(PolledUnit::refusedCount).sum();
        if (!silent.isEmpty()) {
            return "no answer from " + String.join(", ", silent) + "; check its power, line and unit number";
        }
        return refused == 0 ? "" : "registers refused as unknown: " + refused + "; correct the point map";
    }

    private void handOn(PolledUnit unit, List<RawReading> readings) {
        if (readings.isEmpty()) {
            return;
        }
        try {
            sink.accept(unit.id(), clock.instant(), readings).whenComplete((kept, failure) -> {
                if (failure != null) {
                    LOG.debug("{}: a scan of {} was not kept", connection.name(), unit.id(), failure);
                }
            });
        } catch (RuntimeException failure) { // the sink counts it; the next round brings newer values
            LOG.debug("{}: a scan of {} was not taken", connection.name(), unit.id(), failure);
        }
    }

    private void lost(ModbusLink of, String why) {
        if (of != link) {
            return;
        }
        link = null;
        boolean wasConnected = condition.state() == State.CONNECTED;
        State next = condition.state() == State.CONNECTING ? State.CONNECTING : State.LOST;
        failures++;
        Duration wait = settings.reconnect().delay(failures, random);
        become(next, connection.endpoint() + ": " + why);
        of.disconnect().exceptionally(alreadyGone -> null);
        if (wasConnected) {
            Instant now = clock.instant();
            units.forEach(unit -> {
                unit.round(null);
                handOn(unit, unit.allBad(now));
            });
        }
        later(wait.toNanos(), this::connect);
    }

    private void become(State state, String detail) {
        Condition before = condition;
        Instant since = before.state() == state ? before.since() : clock.instant();
        condition = new Condition(state, since, detail);
        if (before.state() != state) {
            LOG.info("{} {}: {} {}", connection.name(), connection.endpoint(), state, detail);
        }
    }

    private void run(Runnable task) {
        try {
            worker.execute(guarded(task));
        } catch (RejectedExecutionException closing) {
            LOG.trace("{}: closing", connection.name(), closing);
        }
    }

    private void later(long delayNs, Runnable task) {
        try {
            worker.schedule(guarded(task), Math.max(0, delayNs), TimeUnit.NANOSECONDS);
        } catch (RejectedExecutionException closing) {
            LOG.trace("{}: closing", connection.name(), closing);
        }
    }

    private Runnable guarded(Runnable task) {
        return () -> {
            try {
                task.run();
            } catch (RuntimeException bug) { // the thread must live on; the connection begins anew
                LOG.error("{}: {}", connection.name(), bug.toString(), bug);
                if (link != null) {
                    lost(link, bug.toString());
                }
            }
        };
    }
}
