package io.loopwarden.store.alarm;

import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.AlarmEvent;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.AlarmState;
import io.loopwarden.alarm.Incident;
import io.loopwarden.alarm.Priority;
import io.loopwarden.alarm.Transition;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import javax.sql.DataSource;

/** Alarms, their history and their incidents. Any number of threads; one of them writes. */
public final class AlarmStore {

    /** Most lines of history that one question is answered with. */
    public static final int MOST_LINES = 100_000;

    private final DataSource database;

    public AlarmStore(DataSource database) {
        this.database = Objects.requireNonNull(database, "database");
    }

    /** Keeps all of the batch or nothing. */
    public void append(AlarmBatch batch) throws SQLException {
        try (Connection connection = database.getConnection()) {
            boolean before = connection.getAutoCommit();
            connection.setAutoCommit(false);
            try {
                addTransitions(connection, batch.transitions());
                putAlarms(connection, batch.alarms());
                putIncidents(connection, batch.incidents());
                connection.commit();
            } catch (SQLException e) {
                connection.rollback();
                throw e;
            } finally {
                connection.setAutoCommit(before);
            }
        }
    }

    private static void addTransitions(Connection connection, List<Transition> transitions) throws SQLException {
        try (PreparedStatement insert = connection.prepareStatement(INSERT_TRANSITION)) {
            for (Transition line : transitions) {
                insert.setString(1, line.id().source());
                insert.setString(2, line.id().definition());
                insert.setString(3, line.event().name());
                insert.setString(4, letter(line.from()));
                insert.setString(5, letter(line.to()));
                Sql.time(insert, 6, line.at());
                insert.setString(7, line.who());
                insert.setString(8, line.why());
                Sql.time(insert, 9, line.until());
                insert.addBatch();
            }
            insert.executeBatch();
        }
    }

    private static void putAlarms(Connection connection, List<Alarm> alarms) throws SQLException {
        try (PreparedStatement put = connection.prepareStatement(PUT_ALARM)) {
            for (Alarm alarm : alarms) {
                put.setString(1, alarm.id().source());
                put.setString(2, alarm.id().definition());
                put.setString(3, letter(alarm.state()));
                put.setBoolean(4, alarm.condition());
                Sql.time(put, 5, alarm.since());
                Sql.time(put, 6, alarm.raisedAt());
                Sql.time(put, 7, alarm.shelvedUntil());
                put.setString(8, alarm.suppressedBy().orElse(null));
                put.setBoolean(9, alarm.outOfService());
                put.setString(10, alarm.evidence());
                put.addBatch();
            }
            put.executeBatch();
        }
    }

    private static void putIncidents(Connection connection, List<Incident> incidents) throws SQLException {
        try (PreparedStatement put = connection.prepareStatement(PUT_INCIDENT)) {
            for (Incident incident : incidents) {
                put.setString(1, incident.id());
                put.setString(2, incident.place());
                put.setString(3, incident.group());
                Sql.time(put, 4, incident.openedAt());
                Sql.time(put, 5, incident.lastRaisedAt());
                Sql.time(put, 6, incident.asksSince());
                Sql.time(put, 7, incident.quietSince());
                Sql.time(put, 8, incident.closedAt());
                put.setString(9, incident.takenBy().orElse(null));
                Sql.time(put, 10, incident.takenAt());
                put.setString(11, incident.priority().name());
                put.setString(12, incident.lead().toString());
                put.setArray(
                        13,
                        connection.createArrayOf(
                                "text",
                                incident.alarms().stream()
                                        .map(AlarmId::toString)
                                        .toArray()));
                put.setString(14, incident.mergedInto().orElse(null));
                put.addBatch();
            }
            put.executeBatch();
        }
    }

    /** Every alarm that ever left normal. */
    public List<Alarm> alarms() throws SQLException {
        List<Alarm> alarms = new ArrayList<>();
        try (Connection connection = database.getConnection();
                PreparedStatement select = connection.prepareStatement(ALARMS);
                ResultSet row = select.executeQuery()) {
            while (row.next()) {
                alarms.add(new Alarm(
                        new AlarmId(row.getString("source"), row.getString("definition")),
                        state(row.getString("state")),
                        row.getBoolean("has_condition"),
                        Sql.time(row, "since"),
                        Sql.timeIfAny(row, "raised_at"),
                        Sql.timeIfAny(row, "shelved_until"),
                        Optional.ofNullable(row.getString("suppressed_by")),
                        row.getBoolean("out_of_service"),
                        row.getString("evidence")));
            }
        }
        return alarms;
    }

    /** Incidents that are not over. */
    public List<Incident> openIncidents() throws SQLException {
        return incidents(OPEN_INCIDENTS, select -> {});
    }

    /** Incidents that began in a span, newest first. */
    public List<Incident> incidents(Instant from, Instant to, int most) throws SQLException {
        return incidents(INCIDENTS, select -> {
            Sql.time(select, 1, from);
            Sql.time(select, 2, to);
            select.setInt(3, Math.min(most, MOST_LINES));
        });
    }

    public Optional<Incident> incident(String id) throws SQLException {
        return incidents(INCIDENT, select -> select.setString(1, id)).stream().findFirst();
    }

    private interface Parameters {
        void set(PreparedStatement select) throws SQLException;
    }

    private List<Incident> incidents(String sql, Parameters parameters) throws SQLException {
        List<Incident> incidents = new ArrayList<>();
        try (Connection connection = database.getConnection();
                PreparedStatement select = connection.prepareStatement(sql)) {
            parameters.set(select);
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    incidents.add(new Incident(
                            row.getString("incident_id"),
                            row.getString("place"),
                            row.getString("cause"),
                            Sql.time(row, "opened_at"),
                            Sql.time(row, "last_raised_at"),
                            Sql.time(row, "asks_since"),
                            Sql.timeIfAny(row, "quiet_since"),
                            Sql.timeIfAny(row, "closed_at"),
                            Optional.ofNullable(row.getString("taken_by")),
                            Sql.timeIfAny(row, "taken_at"),
                            Priority.valueOf(row.getString("priority")),
                            AlarmId.parse(row.getString("lead")),
                            Arrays.stream((String[]) row.getArray("alarms").getArray())
                                    .map(AlarmId::parse)
                                    .collect(Collectors.toSet()),
                            Optional.ofNullable(row.getString("merged_into"))));
                }
            }
        }
        return incidents;
    }

    /** What happened in a span, oldest first; of a longer history the newest {@value #MOST_LINES} lines. */
    public List<Transition> history(Instant from, Instant to) throws SQLException {
        return transitions(HISTORY, select -> {
            Sql.time(select, 1, from);
            Sql.time(select, 2, to);
            select.setInt(3, MOST_LINES);
        });
    }

    /** The newest lines of one alarm, oldest first. */
    public List<Transition> history(AlarmId id, int most) throws SQLException {
        return transitions(HISTORY_OF_ALARM, select -> {
            select.setString(1, id.source());
            select.setString(2, id.definition());
            select.setInt(3, Math.min(most, MOST_LINES));
        });
    }

    private List<Transition> transitions(String sql, Parameters parameters) throws SQLException {
        List<Transition> lines = new ArrayList<>();
        try (Connection connection = database.getConnection();
                PreparedStatement select = connection.prepareStatement(sql)) {
            parameters.set(select);
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    lines.add(new Transition(
                            new AlarmId(row.getString("source"), row.getString("definition")),
                            AlarmEvent.valueOf(row.getString("event")),
                            state(row.getString("from_state")),
                            state(row.getString("to_state")),
                            Sql.time(row, "happened_at"),
                            row.getString("who"),
                            row.getString("why"),
                            Sql.timeIfAny(row, "until_at")));
                }
            }
        }
        return lines;
    }

    private static String letter(AlarmState state) {
        return Character.toString(state.letter());
    }

    private static AlarmState state(String letter) {
        return AlarmState.values()[letter.charAt(0) - 'A'];
    }

    private static final String INSERT_TRANSITION = """
            INSERT INTO alarm_transition (source, definition, event, from_state, to_state, happened_at, who, why, until_at)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)""";

    private static final String PUT_ALARM = """
            INSERT INTO alarm_now (source, definition, state, has_condition, since, raised_at, shelved_until, suppressed_by,
                out_of_service, evidence)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            ON CONFLICT (source, definition) DO UPDATE SET state = excluded.state, has_condition = excluded.has_condition,
                since = excluded.since, raised_at = excluded.raised_at, shelved_until = excluded.shelved_until,
                suppressed_by = excluded.suppressed_by, out_of_service = excluded.out_of_service, evidence = excluded.evidence""";

    private static final String PUT_INCIDENT = """
            INSERT INTO incident (incident_id, place, cause, opened_at, last_raised_at, asks_since, quiet_since, closed_at, taken_by, taken_at,
                priority, lead, alarms, merged_into)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            ON CONFLICT (incident_id) DO UPDATE SET last_raised_at = excluded.last_raised_at, asks_since = excluded.asks_since, quiet_since = excluded.quiet_since,
                closed_at = excluded.closed_at, taken_by = excluded.taken_by, taken_at = excluded.taken_at,
                priority = excluded.priority, lead = excluded.lead, alarms = excluded.alarms, merged_into = excluded.merged_into""";

    private static final String ALARMS = "SELECT * FROM alarm_now";

    private static final String OPEN_INCIDENTS = "SELECT * FROM incident WHERE closed_at IS NULL ORDER BY opened_at";

    private static final String INCIDENTS =
            "SELECT * FROM incident WHERE opened_at >= ? AND opened_at < ? ORDER BY opened_at DESC LIMIT ?";

    private static final String INCIDENT = "SELECT * FROM incident WHERE incident_id = ?";

    private static final String HISTORY = """
            SELECT * FROM (SELECT * FROM alarm_transition WHERE happened_at >= ? AND happened_at < ?
                ORDER BY transition_id DESC LIMIT ?) newest
            ORDER BY transition_id""";

    private static final String HISTORY_OF_ALARM = """
            SELECT * FROM (SELECT * FROM alarm_transition WHERE source = ? AND definition = ?
                ORDER BY transition_id DESC LIMIT ?) newest
            ORDER BY transition_id""";
}
