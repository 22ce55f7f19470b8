package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.AlarmEvent;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.AlarmState;
import io.loopwarden.alarm.Incident;
import io.loopwarden.alarm.Priority;
import io.loopwarden.alarm.Transition;
import io.loopwarden.store.alarm.AlarmBatch;
import io.loopwarden.store.alarm.AlarmStore;
import io.loopwarden.store.alarm.Outbox;
import io.loopwarden.store.alarm.OutboxMessage;
import io.loopwarden.store.alarm.PlanStore;
import io.loopwarden.store.alarm.PlanVersion;
import io.loopwarden.store.alarm.ShiftLog;
import io.loopwarden.store.alarm.ShiftNote;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import javax.sql.DataSource;

/** What every database must do with alarms, messages, the shift log and the on-call plan. */
final class AlarmCases {

    private static final Instant NOON = Instant.parse("2026-11-25T12:00:00.123456Z");
    private static final AlarmId LEAK = new AlarmId("E-07", "tray-wet");

    private final DataSource database;

    AlarmCases(DataSource database) {
        this.database = database;
    }

    void kept() throws SQLException {
        alarms();
        outbox();
        assertThat(new PlanStore(database).newest()).isEmpty();
        PlanVersion first = new PlanVersion(1, NOON, "Ines", "first", "{\"people\": []}");
        assertThat(new PlanStore(database).add(first)).isTrue();
        assertThat(new PlanStore(database).add(first)).as("somebody was faster").isFalse();
        assertThat(new PlanStore(database).newest()).contains(first);
        ShiftNote note = new ShiftNote(UUID.randomUUID(), NOON, "Ines", "E-07", "pump 2 sounds rough");
        new ShiftLog(database).add(note);
        new ShiftLog(database).add(note);
        assertThat(new ShiftLog(database).between(NOON, NOON.plusSeconds(1), 10))
                .containsExactly(note);
        for (String change : List.of(
                "UPDATE alarm_transition SET who = ''",
                "DELETE FROM alarm_transition",
                "UPDATE shift_note SET note = ''",
                "DELETE FROM on_call_plan")) {
            assertThatThrownBy(() -> execute(change)).as(change).hasMessageContaining("only added to");
        }
    }

    private void alarms() throws SQLException {
        AlarmStore store = new AlarmStore(database);
        Transition raised = new Transition(
                LEAK,
                AlarmEvent.OCCUR,
                AlarmState.NORMAL,
                AlarmState.UNACKNOWLEDGED,
                NOON,
                "Loopwarden",
                "tray.wet is 1",
                Optional.empty());
        Transition shelved = new Transition(
                LEAK,
                AlarmEvent.SHELVE,
                AlarmState.UNACKNOWLEDGED,
                AlarmState.SHELVED,
                NOON.plusSeconds(60),
                "Ines",
                "valve work",
                Optional.of(NOON.plusSeconds(3600)));
        Alarm alarm = new Alarm(
                LEAK,
                AlarmState.SHELVED,
                true,
                NOON.plusSeconds(60),
                Optional.of(NOON),
                Optional.of(NOON.plusSeconds(3600)),
                Optional.of("connection lost"),
                false,
                "tray.wet is 1");
        Incident open = incident("one", Optional.empty());
        store.append(new AlarmBatch(List.of(raised), List.of(), List.of(open)));
        store.append(new AlarmBatch(List.of(shelved), List.of(alarm), List.of(incident("two", Optional.of(NOON)))));
        assertThat(store.history(NOON, NOON.plusSeconds(61))).containsExactly(raised, shelved);
        assertThat(store.history(LEAK, 1)).containsExactly(shelved);
        assertThat(store.alarms()).containsExactly(alarm);
        assertThat(store.openIncidents()).containsExactly(open);
        assertThat(store.incident("two")).isPresent();
        assertThat(store.incidents(NOON, NOON.plusSeconds(1), 10)).hasSize(2);

        // All or nothing: the second part cannot be kept, so the first is not either.
        Alarm broken = new Alarm(
                new AlarmId("E-08", "tray-wet"),
                AlarmState.NORMAL,
                false,
                NOON,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                false,
                "a zero byte \0 is refused");
        assertThatThrownBy(() -> store.append(new AlarmBatch(List.of(raised), List.of(broken), List.of())))
                .isInstanceOf(SQLException.class);
        assertThat(store.history(LEAK, 10)).hasSize(2);
    }

    private static Incident incident(String id, Optional<Instant> closed) {
        return new Incident(
                id,
                "E-07",
                "leak",
                NOON,
                NOON,
                NOON.plusSeconds(1),
                Optional.empty(),
                closed,
                Optional.of("Ines"),
                Optional.of(NOON.plusSeconds(5)),
                Priority.HIGH,
                LEAK,
                Set.of(LEAK, new AlarmId("E-07", "rope-wet")),
                Optional.empty());
    }

    private void outbox() throws SQLException {
        Outbox outbox = new Outbox(database);
        OutboxMessage low = message("low", "LOW");
        OutboxMessage high = message("high", "HIGH");
        assertThat(outbox.add(List.of(low, high))).isEqualTo(2);
        assertThat(outbox.add(List.of(low, high))).as("decided once").isZero();
        assertThat(outbox.due("mail", NOON, 10)).extracting(OutboxMessage::id).containsExactly(high.id(), low.id());
        assertThat(outbox.due("other", NOON, 10)).isEmpty();
        outbox.failed(high.id(), "mail", NOON.plusSeconds(4), "refused");
        assertThat(outbox.due("mail", NOON.plusSeconds(3), 10)).containsExactly(low);
        outbox.delivered(low.id(), "mail", NOON.plusSeconds(1));
        outbox.giveUp(high.id(), "mail", "no such mailbox");
        assertThat(outbox.due("mail", NOON.plusSeconds(99), 10)).isEmpty();
        assertThat(outbox.dead(10)).singleElement().satisfies(dead -> {
            assertThat(dead.attempts()).isEqualTo(2);
            assertThat(dead.lastError()).isEqualTo("no such mailbox");
        });
        assertThat(outbox.revive(high.id(), NOON)).isTrue();
        assertThat(outbox.revive(low.id(), NOON)).as("it was delivered").isFalse();
        assertThat(outbox.due("mail", NOON, 10)).extracting(OutboxMessage::id).containsExactly(high.id());
        assertThat(outbox.ofIncident("one")).hasSize(2);
    }

    private static OutboxMessage message(String person, String priority) {
        return OutboxMessage.decided(
                UUID.nameUUIDFromBytes(person.getBytes(java.nio.charset.StandardCharsets.UTF_8)),
                "mail",
                "one",
                person,
                "alarm",
                priority,
                person + "@example.org",
                "{\"subject\": \"x\"}",
                NOON);
    }

    private void execute(String sql) throws SQLException {
        try (Connection connection = database.getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }
}
