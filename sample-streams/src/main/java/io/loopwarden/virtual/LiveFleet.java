package io.loopwarden.virtual;

import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.virtual.scenario.FleetFile;
import io.loopwarden.virtual.scenario.Scenario;
import io.loopwarden.virtual.serve.JsonPublisher;
import io.loopwarden.virtual.serve.ModbusGateway;
import io.loopwarden.virtual.serve.OpcUaHall;
import io.loopwarden.virtual.serve.Served;
import io.loopwarden.virtual.serve.SparkplugNode;
import io.loopwarden.virtual.serve.Truths;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** A virtual fleet in real time: every unit advances once a second and shows its readings over its own protocol. */
public final class LiveFleet implements AutoCloseable {

    private static final Logger LOG = LoggerFactory.getLogger(LiveFleet.class);
    private static final Duration STEP = Duration.ofSeconds(1);
    /** Long enough for the controller's own loops to take over from the coarse warm-up. */
    private static final Duration SETTLING = Duration.ofMinutes(2);

    /** A service that reads only cannot ask for a birth; it waits at most this long for names and aliases. */
    private static final Duration REBIRTH_EVERY = Duration.ofSeconds(20);

    private static final int TRUTH_EVERY_TICKS = 60;

    private record Live(VirtualUnit unit, Served served) {}

    private final Map<String, Live> units = new TreeMap<>();
    private final Map<String, Served> lines = new LinkedHashMap<>();
    private final ScheduledExecutorService clock =
            Executors.newSingleThreadScheduledExecutor(task -> new Thread(task, "virtual-plant"));
    private final ObjectMapper json = new ObjectMapper();
    private final Path truthFolder;
    private final long stepNs;
    private long ticks;

    /**
     * Starts the servers and fast-forwards the plants; {@link #start} lets time run.
     *
     * @param broker the MQTT broker; without one the MQTT connections are left out
     * @param speed plant seconds in a second
     * @param history how long the units ran before, written to {@code out/history}; zero for not at all
     */
    public LiveFleet(
            Scenario scenario, Instant now, Optional<String> broker, double speed, Path out, Duration history) {
        this.stepNs = Math.round(STEP.toNanos() * speed);
        this.truthFolder = out.resolve("truth");
        for (FleetFile.Line line : scenario.fleet().lines()) {
            open(scenario.fleet(), line, broker).ifPresent(served -> lines.put(line.name(), served));
        }
        Instant settleFrom = now.minus(SETTLING);
        scenario.fleet().units().parallelStream()
                .filter(served -> lines.containsKey(served.connection()))
                .map(served -> settled(scenario.units().get(served.id()), settleFrom, history, out.resolve("history")))
                .toList()
                .forEach(unit -> units.put(unit.id(), new Live(unit, lineOf(scenario, unit.id()))));
        Map<String, String> endpoints = new LinkedHashMap<>();
        lines.forEach((name, served) -> endpoints.put(name, served.endpoint()));
        try {
            Files.createDirectories(truthFolder);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        scenario.fleet().writeResolved(out.resolve("fleet"), endpoints);
        tick();
    }

    private static VirtualUnit settled(UnitSpec spec, Instant from, Duration history, Path folder) {
        VirtualUnit unit = new VirtualUnit(spec, from.minus(history));
        if (!history.isZero()) {
            History.write(unit, from, folder);
        }
        unit.step(SETTLING);
        return unit;
    }

    private Served lineOf(Scenario scenario, String unit) {
        return scenario.fleet().units().stream()
                .filter(served -> served.id().equals(unit))
                .map(served -> lines.get(served.connection()))
                .findFirst()
                .orElseThrow();
    }

    private static Optional<Served> open(FleetFile fleet, FleetFile.Line line, Optional<String> broker) {
        return switch (line.protocol()) {
            case "opc-ua" -> Optional.of(new OpcUaHall(fleet, line));
            case "modbus-tcp" -> Optional.of(new ModbusGateway(fleet, line));
            case "mqtt-json" -> broker.map(address -> new JsonPublisher(fleet, line, address));
            case "mqtt-sparkplug" -> broker.map(address -> new SparkplugNode(fleet, line, address, REBIRTH_EVERY));
            default ->
                throw new IllegalArgumentException(
                        "fleet.yaml: connection " + line.name() + " has unknown protocol '" + line.protocol() + "'");
        };
    }

    public void start() {
        clock.scheduleAtFixedRate(this::tick, 1, 1, TimeUnit.SECONDS);
    }

    public Map<String, String> endpoints() {
        Map<String, String> endpoints = new LinkedHashMap<>();
        lines.forEach((name, served) -> endpoints.put(name, served.endpoint()));
        return endpoints;
    }

    public List<String> ids() {
        return List.copyOf(units.keySet());
    }

    private void tick() {
        for (Live live : units.values()) {
            try {
                advance(live);
            } catch (RuntimeException e) {
                // One unit's trouble is its own; the others go on.
                LOG.error("unit {} did not advance", live.unit().id(), e);
            }
        }
        ticks++;
    }

    private void advance(Live live) {
        synchronized (live.unit()) {
            live.unit().step(Duration.ofNanos(stepNs));
            show(live, Instant.now());
            if (ticks % TRUTH_EVERY_TICKS == 0) {
                writeTruth(live.unit());
            }
        }
    }

    private static void show(Live live, Instant at) {
        if (live.unit().alive()) {
            live.served().show(live.unit().id(), live.unit().readings(at));
        } else {
            live.served().silence(live.unit().id());
        }
    }

    private void writeTruth(VirtualUnit unit) {
        try {
            String line = json.writeValueAsString(Truths.json(unit.id(), unit.truth())) + "\n";
            Files.write(
                    truthFolder.resolve(unit.id() + ".jsonl"),
                    line.getBytes(StandardCharsets.UTF_8),
                    StandardOpenOption.CREATE,
                    StandardOpenOption.APPEND);
        } catch (IOException e) {
            LOG.warn("truth of {} not written: {}", unit.id(), e.getMessage());
        }
    }

    /** Changes a unit and shows it at once; answers the source time of what is shown. */
    public Instant change(String id, Consumer<VirtualUnit> change) {
        Live live = require(id);
        synchronized (live.unit()) {
            change.accept(live.unit());
            Instant at = Instant.now();
            show(live, at);
            return at;
        }
    }

    public Truth truth(String id) {
        Live live = require(id);
        synchronized (live.unit()) {
            return live.unit().truth();
        }
    }

    private Live require(String id) {
        Live live = units.get(id);
        if (live == null) {
            throw new NoSuchElementException("there is no unit '" + id + "'; there are " + units.keySet());
        }
        return live;
    }

    @Override
    public void close() {
        clock.shutdownNow();
        try {
            clock.awaitTermination(5, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        for (Served served : lines.values()) {
            try {
                served.close();
            } catch (RuntimeException e) {
                LOG.warn("{} did not close: {}", served.endpoint(), e.getMessage());
            }
        }
    }
}
