package io.loopwarden.service;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ConnectionStatus;
import io.loopwarden.collector.Intake;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.exchanger.CleaningCosts;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetfile.FleetConfig;
import io.loopwarden.fleetfile.FleetFolder;
import io.loopwarden.fleetstate.FleetState;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.samplelog.LogLimits;
import io.loopwarden.samplelog.LogStatus;
import io.loopwarden.samplelog.QueuedSampleLog;
import io.loopwarden.samplelog.ScanListener;
import io.loopwarden.samplelog.SpooledStore;
import io.loopwarden.spool.Spool;
import io.loopwarden.spool.SpoolLimits;
import io.loopwarden.spool.SpoolStatus;
import io.loopwarden.watch.WatchSettings;
import io.loopwarden.yaml.Fault;
import jakarta.annotation.PreDestroy;
import jakarta.enterprise.context.ApplicationScoped;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.jboss.logging.Logger;

/** Wiring of the whole: fleet folder, store, sample log, collectors, fleet state. Built at start, ended in reverse order. */
@ApplicationScoped
public class LoopwardenService {

    private static final Logger LOG = Logger.getLogger(LoopwardenService.class);

    private final LoopwardenConfig settings;
    private final Clock clock;
    private final RejectLog rejects;
    private volatile FleetConfig config;
    private final FleetState fleet;
    private final StoreAccess store;
    private final MemoryKeeper memory;
    private final PastReader past;
    private final SpooledStore spooled;
    private final QueuedSampleLog log;
    private volatile List<Line> lines;
    private final FigureKeeper figures;
    private final Map<UnitId, Line> lineOf = new ConcurrentHashMap<>();

    LoopwardenService(LoopwardenConfig settings, Clock clock) {
        this.settings = settings;
        this.clock = clock;
        this.rejects = new RejectLog(clock);
        FleetConfig loaded = FleetFolder.load(settings.fleet());
        this.fleet = new FleetState(loaded.units(), clock, watchSettings(settings.cleaning()));
        this.store = StoreAccess.open(settings, clock);
        this.spooled = spooled(settings, store);
        this.log = new QueuedSampleLog(spooled, LogLimits.DEFAULT);
        this.memory = new MemoryKeeper(store.memories(), fleet, clock);
        memory.restore();
        rememberMaintenance();
        this.past = new PastReader(fleet, store.reader(), clock, loaded.units());
        log.subscribe(new Feed(fleet));
        this.figures = new FigureKeeper(fleet, store.figures());
        List<Fault> faults = new ArrayList<>(loaded.faults());
        this.lines = lines(loaded.connections(), faults);
        this.config = new FleetConfig(loaded.siteName(), loaded.zone(), loaded.units(), loaded.connections(), faults);
        faults.forEach(fault -> LOG.warn(fault.toString()));
    }

    private static WatchSettings watchSettings(LoopwardenConfig.Cleaning costs) {
        return WatchSettings.DEFAULT.withCleaning(new CleaningCosts(
                costs.costKwh(), costs.pumpEfficiency(), costs.freeCoolingHoursPerK(), costs.chillerRatio()));
    }

    /** Begins to read; called once the rest is up. */
    void start() {
        past.start();
        memory.start();
        lines.forEach(line -> line.collector().start());
        figures.start();
        LOG.infof(
                "watching %d units over %d connections; store: %s; %d faults in the fleet folder %s",
                config.units().size(),
                lines.size(),
                store.kind(),
                config.faults().size(),
                settings.fleet());
    }

    private void rememberMaintenance() {
        try {
            store.maintenance().all().forEach(fleet::accept);
        } catch (SQLException e) {
            throw new IllegalStateException("the maintenance log cannot be read back", e);
        }
    }

    /** Stores an entry of the maintenance log, then tells the unit's watch, as at every later start. */
    public void accept(MaintenanceEntry entry) throws SQLException {
        store.maintenance().add(entry);
        fleet.accept(entry);
    }

    private List<Line> lines(List<Connection> connections, List<Fault> faults) {
        return connections.stream()
                .flatMap(connection -> line(connection, faults).stream())
                .toList();
    }

    private Optional<Line> line(Connection connection, List<Fault> faults) {
        Intake intake = new Intake(connection, log, rejects, clock);
        try {
            Collector collector = Collectors.of(connection, intake, rejects, clock, settings.data());
            Line line = new Line(connection, collector, intake);
            connection.units().forEach(served -> lineOf.put(served.unit(), line));
            return Optional.of(line);
        } catch (ConfigurationException e) {
            e.faults().forEach(fault -> faults.add(new Fault("fleet.yaml", 1, connection.name(), fault)));
            return Optional.empty();
        }
    }

    /**
     * Takes what was added to the fleet folder into service without a restart: new units are watched, a connection that is new or
     * serves other units is opened anew. What changed of a unit that is watched already takes effect at the next start.
     */
    public synchronized void takeIn(FleetConfig loaded) {
        loaded.units().forEach(fleet::add);
        List<Fault> faults = new ArrayList<>(loaded.faults());
        List<Line> now = new ArrayList<>();
        for (Connection connection : loaded.connections()) {
            Optional<Line> old = line(connection.name());
            if (old.isPresent() && old.get().serves(connection)) {
                now.add(old.get());
            } else {
                old.ifPresent(line -> line.collector().close());
                Optional<Line> fresh = line(connection, faults);
                fresh.ifPresent(line -> line.collector().start());
                fresh.ifPresent(now::add);
            }
        }
        lines = List.copyOf(now);
        config = new FleetConfig(loaded.siteName(), loaded.zone(), loaded.units(), loaded.connections(), faults);
    }

    /** The connection of that name in service. */
    public Optional<Line> line(String connection) {
        return lines.stream()
                .filter(line -> line.connection().name().equals(connection))
                .findFirst();
    }

    /** The fleet folder. */
    public Path folder() {
        return settings.fleet();
    }

    /** Where the service keeps its own files. */
    public Path data() {
        return settings.data();
    }

    public FleetConfig config() {
        return config;
    }

    public FleetState fleet() {
        return fleet;
    }

    public RejectLog rejects() {
        return rejects;
    }

    public List<Line> lines() {
        return lines;
    }

    public StoreAccess store() {
        return store;
    }

    private static SpooledStore spooled(LoopwardenConfig settings, StoreAccess store) {
        try {
            SpoolLimits limits = SpoolLimits.of(settings.spool().most().asLongValue());
            return new SpooledStore(
                    store.writer(), Spool.open(settings.data().resolve("spool"), limits), LogLimits.DEFAULT);
        } catch (IOException e) {
            throw new UncheckedIOException(
                    "the spool in " + settings.data().resolve("spool") + " cannot be opened: " + e.getMessage(), e);
        }
    }

    /** Of the log and the spool together. */
    public LogStatus logStatus() {
        return log.status().with(spooled.status());
    }

    public SpoolStatus spoolStatus() {
        return spooled.status().spool();
    }

    public Optional<ConnectionStatus> connectionOf(UnitId unit) {
        return Optional.ofNullable(lineOf.get(unit))
                .map(line -> line.collector().status());
    }

    @PreDestroy
    void stop() {
        // At once, not one after another: each waits a moment for what is on its way to disk.
        lines.parallelStream().forEach(line -> line.collector().close());
        log.close();
        past.close();
        memory.close();
        figures.close();
        store.close();
    }

    /** The live watch hears every scan. */
    private record Feed(FleetState fleet) implements ScanListener {
        @Override
        public void onScan(Scan scan) {
            fleet.accept(scan);
        }

        @Override
        public void onDropped(long scans) {
            LOG.warnf("the live watch was behind and missed %d scans; they are stored all the same", scans);
        }
    }
}
