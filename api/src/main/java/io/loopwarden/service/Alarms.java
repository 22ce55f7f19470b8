package io.loopwarden.service;

import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.alarm.AlarmEngine;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.Facts;
import io.loopwarden.alarm.GroupingSettings;
import io.loopwarden.alarm.Incidents;
import io.loopwarden.alarmdesk.AlarmDesk;
import io.loopwarden.alarmfile.AlarmDefinitions;
import io.loopwarden.alarmfile.AlarmsFile;
import io.loopwarden.collector.ConnectionStatus;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.oncall.AckLinks;
import io.loopwarden.oncall.ChannelsFile;
import io.loopwarden.oncall.Dispatcher;
import io.loopwarden.oncall.MessageWriter;
import io.loopwarden.oncall.OnCall;
import io.loopwarden.oncall.Plans;
import io.loopwarden.oncall.SecretFile;
import io.loopwarden.store.alarm.AlarmStore;
import io.loopwarden.store.alarm.Outbox;
import io.loopwarden.store.alarm.PlanStore;
import io.loopwarden.store.alarm.ShiftLog;
import io.loopwarden.yaml.Fault;
import jakarta.enterprise.context.ApplicationScoped;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import javax.sql.DataSource;
import org.jboss.logging.Logger;

/** Wiring of alarms and on-call: definitions, the desk that judges and keeps, the plan, the channels, delivery. */
@ApplicationScoped
public class Alarms {

    private static final Logger LOG = Logger.getLogger(Alarms.class);
    private static final Duration ROUND = Duration.ofMillis(250);
    private static final String SECRET = "acknowledge-link.key";

    private final LoopwardenService service;
    private final Clock clock;
    private final Path fleet;
    private final Map<String, Definition> definitions = new HashMap<>();
    private final List<Fault> faults = new ArrayList<>();
    private final AlarmStore store;
    private final ShiftLog shiftLog;
    private final Outbox outbox;
    private final PlanStore planStore;
    private final Plans plans;
    private final Dispatcher dispatcher;
    private final AckLinks links;
    private final OnCall onCall;
    private final AlarmDesk desk;
    private final Map<String, String> halls = new HashMap<>();

    Alarms(LoopwardenService service, LoopwardenConfig settings, ObjectMapper json, Clock clock) {
        this.service = service;
        this.clock = clock;
        this.fleet = settings.fleet();
        AlarmDefinitions read = AlarmsFile.load(fleet);
        read.definitions().forEach(each -> definitions.put(each.key(), each));
        faults.addAll(read.faults());
        service.config().units().forEach(unit -> halls.put(unit.id().value(), unit.hall()));

        DataSource database = service.store().database();
        this.store = new AlarmStore(database);
        this.shiftLog = new ShiftLog(database);
        this.outbox = new Outbox(database);
        this.planStore = new PlanStore(database);
        ChannelsFile.Channels channels =
                ChannelsFile.load(fleet, settings.data(), settings.alarms().address(), json, clock);
        faults.addAll(channels.faults());
        this.plans = new Plans(planStore, json, channels.channels().keySet());
        this.dispatcher =
                new Dispatcher(channels.channels().values(), outbox, json, clock, Dispatcher.Settings.DEFAULT);
        try {
            this.links = new AckLinks(
                    SecretFile.readOrMake(settings.data().resolve(SECRET)),
                    settings.alarms().acknowledgeLinkValid());
        } catch (IOException e) {
            throw new IllegalStateException(
                    "the key of acknowledge links cannot be read or made: " + e.getMessage(), e);
        }
        this.onCall = new OnCall(
                plans,
                channels.channels(),
                outbox,
                shiftLog,
                new MessageWriter(settings.alarms().address(), links),
                dispatcher,
                json,
                this::definition);
        this.desk = new AlarmDesk(
                new AlarmEngine(read.definitions(), this::connectionOf),
                new Incidents(GroupingSettings.DEFAULT, this::definition, halls),
                store,
                new Sources(),
                clock,
                () -> plans.current().operators());
        desk.listen(onCall::round);
    }

    void start() {
        try {
            plans.restore(fleet).forEach(fault -> faults.add(new Fault(Plans.FIRST, 1, "", fault)));
            desk.restore();
            onCall.restore(desk.snapshot().open());
        } catch (SQLException e) {
            throw new IllegalStateException("the alarms cannot be read back", e);
        }
        faults.forEach(fault -> LOG.warn(fault.toString()));
        dispatcher.start();
        desk.start(ROUND);
    }

    public Optional<Definition> definition(String key) {
        return Optional.ofNullable(definitions.get(key));
    }

    public List<Definition> definitions() {
        return definitions.values().stream()
                .sorted((a, b) -> a.key().compareTo(b.key()))
                .toList();
    }

    /** What is wrong in alarm definitions, channels and the on-call plan. */
    public List<Fault> faults() {
        return List.copyOf(faults);
    }

    public AlarmDesk desk() {
        return desk;
    }

    public AlarmStore store() {
        return store;
    }

    public ShiftLog shiftLog() {
        return shiftLog;
    }

    public Outbox outbox() {
        return outbox;
    }

    public PlanStore planStore() {
        return planStore;
    }

    public Plans plans() {
        return plans;
    }

    public Dispatcher dispatcher() {
        return dispatcher;
    }

    public OnCall onCall() {
        return onCall;
    }

    public AckLinks links() {
        return links;
    }

    public Optional<String> hallOf(String unit) {
        return Optional.ofNullable(halls.get(unit));
    }

    private Optional<String> connectionOf(String source) {
        return halls.containsKey(source)
                ? service.connectionOf(new UnitId(source)).map(ConnectionStatus::connection)
                : Optional.empty();
    }

    void stop() {
        desk.close();
        dispatcher.close();
    }

    /** What the alarms are judged by, as it is in the running service. */
    private final class Sources implements AlarmDesk.Sources {

        @Override
        public Optional<Facts> unit(String name) {
            return service.fleet()
                    .unit(new UnitId(name))
                    .map(now -> new Facts.OfUnit(now.unit(), now.figures(), now.lastSampleAt()));
        }

        @Override
        public List<Facts> parts() {
            List<Facts> parts = new ArrayList<>();
            Instant at = clock.instant().truncatedTo(ChronoUnit.MICROS);
            for (Line line : service.lines()) {
                ConnectionStatus status = line.collector().status();
                boolean lost = status.state() != ConnectionStatus.State.CONNECTED;
                String sentence = lost
                        ? "connection " + status.connection() + " is "
                                + status.state().name().toLowerCase(Locale.ROOT)
                                + (status.detail().isEmpty() ? "" : ": " + status.detail())
                        : "connection " + status.connection() + " is up";
                parts.add(new Facts.OfPart(AlarmId.connection(status.connection()), at, lost, sentence));
            }
            Optional<String> error = service.logStatus().lastError();
            parts.add(new Facts.OfPart(
                    AlarmId.service("store"), at, error.isPresent(), error.orElse("samples are stored")));
            Optional<String> trouble = dispatcher.trouble();
            parts.add(new Facts.OfPart(
                    AlarmId.service("messages"), at, trouble.isPresent(), trouble.orElse("messages get through")));
            return parts;
        }
    }
}
