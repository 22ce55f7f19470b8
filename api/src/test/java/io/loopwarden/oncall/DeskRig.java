package io.loopwarden.oncall;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import io.loopwarden.alarm.AlarmEngine;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.Delay;
import io.loopwarden.alarm.Facts;
import io.loopwarden.alarm.GroupingSettings;
import io.loopwarden.alarm.Incidents;
import io.loopwarden.alarm.PartCondition;
import io.loopwarden.alarm.Severity;
import io.loopwarden.alarmdesk.AlarmDesk;
import io.loopwarden.oncall.OnCallPlan.Chain;
import io.loopwarden.oncall.OnCallPlan.Contact;
import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.oncall.OnCallPlan.Step;
import io.loopwarden.store.alarm.AlarmStore;
import io.loopwarden.store.alarm.Outbox;
import io.loopwarden.store.alarm.PlanStore;
import io.loopwarden.store.alarm.ShiftLog;
import java.net.URI;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import javax.sql.DataSource;

/** The alarms' desk, on-call and delivery as in the service, on a real database, with connections that the test breaks and mends. */
final class DeskRig implements AutoCloseable {

    static final ObjectMapper JSON = new ObjectMapper()
            .registerModule(new JavaTimeModule())
            .registerModule(new Jdk8Module())
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
            .disable(SerializationFeature.WRITE_DURATIONS_AS_TIMESTAMPS);

    private static final Dispatcher.Settings HASTE = new Dispatcher.Settings(
            Duration.ofMillis(50), Duration.ofMillis(50), Duration.ofMillis(400), Duration.ofMinutes(10), 16);

    /** Urgent, one person, one alarm for each connection. */
    static final Definition LOST = new Definition(
            "lost",
            "A controller does not answer",
            "data",
            new PartCondition(PartCondition.CONNECTION),
            new Delay.Times(Duration.ZERO, Duration.ZERO),
            "cause",
            "Nothing is known of the units behind it.",
            Severity.SEVERE,
            "Look at it.",
            Duration.ofMinutes(10),
            false,
            Optional.empty(),
            "all",
            "lost",
            false,
            Set.of(),
            Set.of(),
            List.of());

    final AlarmStore store;
    final Outbox outbox;
    final AlarmDesk desk;
    final Plans plans;
    final AckLinks links = new AckLinks(new byte[32], Duration.ofHours(1));
    private final Map<String, Boolean> broken = new ConcurrentHashMap<>();
    private final Dispatcher dispatcher;

    DeskRig(DataSource database, List<Channel> channels, Clock clock) throws SQLException {
        store = new AlarmStore(database);
        outbox = new Outbox(database);
        Map<String, Channel> byName = channels.stream().collect(Collectors.toMap(Channel::name, Function.identity()));
        plans = new Plans(new PlanStore(database), JSON, byName.keySet());
        plans.restore(java.nio.file.Path.of("none"));
        if (plans.version() == 0) {
            plans.save(plan(byName.keySet()), 0, "the test", "first", clock.instant());
        }
        dispatcher = new Dispatcher(channels, outbox, JSON, clock, HASTE);
        Function<String, Optional<Definition>> definitionOf =
                key -> Optional.of(LOST).filter(each -> each.key().equals(key));
        OnCall onCall = new OnCall(
                plans,
                byName,
                outbox,
                new ShiftLog(database),
                new MessageWriter(URI.create("https://loopwarden.example.org"), links),
                dispatcher,
                JSON,
                definitionOf);
        desk = new AlarmDesk(
                new AlarmEngine(List.of(LOST), source -> Optional.empty()),
                new Incidents(GroupingSettings.DEFAULT, definitionOf, Map.of()),
                store,
                new Sources(clock),
                clock,
                () -> 1);
        desk.restore();
        onCall.restore(desk.snapshot().open());
        desk.listen(onCall::round);
        dispatcher.start();
        desk.start(Duration.ofMillis(20));
    }

    private static OnCallPlan plan(Collection<String> channels) {
        List<Contact> contacts = new ArrayList<>();
        channels.forEach(name -> contacts.add(new Contact(name, "ines@example.org", null)));
        return new OnCallPlan(
                1,
                List.of(new Person("ines", "Ines Test", ZoneOffset.UTC, contacts, null)),
                List.of(),
                List.of(),
                List.of(new Chain("all", List.of(new Step(Duration.ZERO, List.of("person:ines"))))));
    }

    static AlarmId alarm(int number) {
        return new AlarmId(source(number), "lost");
    }

    static String source(int number) {
        return AlarmId.connection("c" + number);
    }

    void set(int number, boolean isBroken) {
        broken.put(source(number), isBroken);
        desk.changed(List.of(source(number)));
    }

    private final class Sources implements AlarmDesk.Sources {
        private final Clock clock;

        Sources(Clock clock) {
            this.clock = clock;
        }

        @Override
        public Optional<Facts> unit(String name) {
            return Optional.ofNullable(broken.get(name))
                    .map(bad -> new Facts.OfPart(name, at(), bad, bad ? name + " is lost" : name + " is up"));
        }

        private Instant at() {
            return clock.instant().truncatedTo(java.time.temporal.ChronoUnit.MICROS);
        }

        @Override
        public List<Facts> parts() {
            return List.of();
        }
    }

    @Override
    public void close() {
        desk.close();
        dispatcher.close();
    }
}
