package io.loopwarden.store.alarm;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import javax.sql.DataSource;

/** Messages that were decided on and what became of them: they outlive a kill at any moment. Any number of threads. */
public final class Outbox {

    private final DataSource database;

    public Outbox(DataSource database) {
        this.database = database;
    }

    /** Adds messages, all or none; one that is there already stays as it is. Answers how many are new. */
    public int add(List<OutboxMessage> messages) throws SQLException {
        try (Connection connection = database.getConnection()) {
            connection.setAutoCommit(false);
            try (PreparedStatement insert = connection.prepareStatement(INSERT)) {
                int added = 0;
                for (OutboxMessage message : messages) {
                    insert.setObject(1, message.id());
                    insert.setString(2, message.channel());
                    insert.setString(3, message.incident());
                    insert.setString(4, message.person());
                    insert.setString(5, message.kind());
                    insert.setString(6, message.priority());
                    insert.setString(7, message.address());
                    insert.setString(8, message.body());
                    Sql.time(insert, 9, message.decidedAt());
                    Sql.time(insert, 10, message.nextAt());
                    // Not as a batch: a driver that rewrites batches does not tell how many rows came in.
                    added += insert.executeUpdate();
                }
                connection.commit();
                return added;
            } catch (SQLException e) {
                connection.rollback();
                throw e;
            } finally {
                connection.setAutoCommit(true);
            }
        }
    }

    /** Messages of a channel whose time has come, the most urgent first. */
    public List<OutboxMessage> due(String channel, Instant at, int most) throws SQLException {
        return select(DUE, statement -> {
            statement.setString(1, channel);
            Sql.time(statement, 2, at);
            statement.setInt(3, most);
        });
    }

    /** Messages that were given up, newest first. */
    public List<OutboxMessage> dead(int most) throws SQLException {
        return select(DEAD, statement -> statement.setInt(1, most));
    }

    /** Every message of an incident, in the order they were decided on. */
    public List<OutboxMessage> ofIncident(String incident) throws SQLException {
        return select(OF_INCIDENT, statement -> statement.setString(1, incident));
    }

    /** Every message of these incidents. */
    public List<OutboxMessage> ofIncidents(Collection<String> incidents) throws SQLException {
        return select(
                OF_INCIDENTS,
                statement ->
                        statement.setArray(1, statement.getConnection().createArrayOf("text", incidents.toArray())));
    }

    /** The newest messages. */
    public List<OutboxMessage> newest(int most) throws SQLException {
        return select(NEWEST, statement -> statement.setInt(1, most));
    }

    public void delivered(UUID id, String channel, Instant at) throws SQLException {
        update(DELIVERED, statement -> {
            Sql.time(statement, 1, at);
            statement.setObject(2, id);
            statement.setString(3, channel);
        });
    }

    /** @param next when to try again */
    public void failed(UUID id, String channel, Instant next, String error) throws SQLException {
        update(FAILED, statement -> {
            Sql.time(statement, 1, next);
            statement.setString(2, error);
            statement.setObject(3, id);
            statement.setString(4, channel);
        });
    }

    public void giveUp(UUID id, String channel, String error) throws SQLException {
        update(GIVE_UP, statement -> {
            statement.setString(1, error);
            statement.setObject(2, id);
            statement.setString(3, channel);
        });
    }

    /** A dead message is tried again from the beginning; false if there is none of that id. */
    public boolean revive(UUID id, Instant at) throws SQLException {
        return update(REVIVE, statement -> {
            Sql.time(statement, 1, at);
            statement.setObject(2, id);
        });
    }

    private interface Parameters {
        void set(PreparedStatement statement) throws SQLException;
    }

    private boolean update(String sql, Parameters parameters) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement statement = connection.prepareStatement(sql)) {
            parameters.set(statement);
            return statement.executeUpdate() > 0;
        }
    }

    private List<OutboxMessage> select(String sql, Parameters parameters) throws SQLException {
        List<OutboxMessage> messages = new ArrayList<>();
        try (Connection connection = database.getConnection();
                PreparedStatement select = connection.prepareStatement(sql)) {
            parameters.set(select);
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    messages.add(new OutboxMessage(
                            row.getObject("message_id", UUID.class),
                            row.getString("channel"),
                            row.getString("incident_id"),
                            row.getString("person"),
                            row.getString("kind"),
                            row.getString("priority"),
                            row.getString("address"),
                            row.getString("body"),
                            Sql.time(row, "decided_at"),
                            row.getString("state"),
                            row.getInt("attempts"),
                            Sql.time(row, "next_at"),
                            row.getString("last_error"),
                            Sql.timeIfAny(row, "delivered_at")));
                }
            }
        }
        return messages;
    }

    private static final String INSERT = """
            INSERT INTO outbox (message_id, channel, incident_id, person, kind, priority, address, body, decided_at, state, attempts,
                next_at, last_error)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?::jsonb, ?, 'waiting', 0, ?, '')
            ON CONFLICT (message_id, channel) DO NOTHING""";

    private static final String DUE = """
            SELECT * FROM outbox WHERE state = 'waiting' AND channel = ? AND next_at <= ?
            ORDER BY array_position(ARRAY['HIGH', 'MEDIUM', 'LOW'], priority), next_at LIMIT ?""";

    private static final String DEAD = "SELECT * FROM outbox WHERE state = 'dead' ORDER BY decided_at DESC LIMIT ?";

    private static final String OF_INCIDENT =
            "SELECT * FROM outbox WHERE incident_id = ? ORDER BY decided_at, person, channel";

    private static final String OF_INCIDENTS = "SELECT * FROM outbox WHERE incident_id = ANY (?)";

    private static final String NEWEST = "SELECT * FROM outbox ORDER BY decided_at DESC, person, channel LIMIT ?";

    private static final String DELIVERED = """
            UPDATE outbox SET state = 'delivered', delivered_at = ?, attempts = attempts + 1, last_error = ''
            WHERE message_id = ? AND channel = ?""";

    private static final String FAILED = """
            UPDATE outbox SET next_at = ?, last_error = ?, attempts = attempts + 1
            WHERE message_id = ? AND channel = ? AND state = 'waiting'""";

    private static final String GIVE_UP = """
            UPDATE outbox SET state = 'dead', last_error = ?, attempts = attempts + 1
            WHERE message_id = ? AND channel = ? AND state = 'waiting'""";

    private static final String REVIVE = """
            UPDATE outbox SET state = 'waiting', next_at = ?, attempts = 0 WHERE message_id = ? AND state = 'dead'""";
}
