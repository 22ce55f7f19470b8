package io.loopwarden.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import javax.sql.DataSource;

/** People, their open sign-ins and API keys. */
public final class PeopleTable {

    private static final HexFormat HEX = HexFormat.of();

    private final DataSource database;

    public PeopleTable(DataSource database) {
        this.database = database;
    }

    public List<PersonRow> people() throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement query = connection.prepareStatement(PEOPLE);
                ResultSet row = query.executeQuery()) {
            List<PersonRow> people = new ArrayList<>();
            while (row.next()) {
                people.add(new PersonRow(
                        row.getString("name"),
                        row.getString("role"),
                        row.getBoolean("active"),
                        Optional.ofNullable(row.getString("password_hash")),
                        token(row),
                        row.getTimestamp("created_at").toInstant(),
                        row.getString("created_by")));
            }
            return people;
        }
    }

    private static Optional<PersonRow.TokenRow> token(ResultSet row) throws SQLException {
        byte[] hash = row.getBytes("token_hash");
        return hash == null
                ? Optional.empty()
                : Optional.of(new PersonRow.TokenRow(
                        HEX.formatHex(hash), row.getTimestamp("token_until").toInstant()));
    }

    /** Adds the person or changes who is there under that name. */
    public void put(PersonRow person) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement put = connection.prepareStatement(PUT_PERSON)) {
            put.setString(1, person.name());
            put.setString(2, person.role());
            put.setBoolean(3, person.active());
            put.setString(4, person.passwordHash().orElse(null));
            put.setBytes(5, person.token().map(t -> HEX.parseHex(t.hashHex())).orElse(null));
            put.setTimestamp(6, timestamp(person.token().map(PersonRow.TokenRow::until)));
            put.setTimestamp(7, Timestamp.from(person.createdAt()));
            put.setString(8, person.createdBy());
            put.executeUpdate();
        }
    }

    public List<SignInRow> signIns() throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement query = connection.prepareStatement(SIGN_INS);
                ResultSet row = query.executeQuery()) {
            List<SignInRow> all = new ArrayList<>();
            while (row.next()) {
                all.add(new SignInRow(
                        HEX.formatHex(row.getBytes("session_hash")),
                        row.getString("person"),
                        row.getTimestamp("begun_at").toInstant(),
                        row.getTimestamp("until").toInstant()));
            }
            return all;
        }
    }

    public void add(SignInRow signIn) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement add = connection.prepareStatement(ADD_SIGN_IN)) {
            add.setBytes(1, HEX.parseHex(signIn.sessionHashHex()));
            add.setString(2, signIn.person());
            add.setTimestamp(3, Timestamp.from(signIn.begunAt()));
            add.setTimestamp(4, Timestamp.from(signIn.until()));
            add.executeUpdate();
        }
    }

    public void endSignIn(String sessionHashHex) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement end = connection.prepareStatement("DELETE FROM sign_in WHERE session_hash = ?")) {
            end.setBytes(1, HEX.parseHex(sessionHashHex));
            end.executeUpdate();
        }
    }

    public void endSignInsOf(String person) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement end = connection.prepareStatement("DELETE FROM sign_in WHERE person = ?")) {
            end.setString(1, person);
            end.executeUpdate();
        }
    }

    public void dropSignInsBefore(Instant now) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement drop = connection.prepareStatement("DELETE FROM sign_in WHERE until < ?")) {
            drop.setTimestamp(1, Timestamp.from(now));
            drop.executeUpdate();
        }
    }

    public List<KeyRow> keys() throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement query = connection.prepareStatement(KEYS);
                ResultSet row = query.executeQuery()) {
            List<KeyRow> keys = new ArrayList<>();
            while (row.next()) {
                Timestamp until = row.getTimestamp("until");
                keys.add(new KeyRow(
                        row.getString("key_id"),
                        row.getString("label"),
                        row.getString("role"),
                        List.of((String[]) row.getArray("areas").getArray()),
                        HEX.formatHex(row.getBytes("secret_hash")),
                        Optional.ofNullable(until).map(Timestamp::toInstant),
                        row.getTimestamp("created_at").toInstant(),
                        row.getString("created_by")));
            }
            return keys;
        }
    }

    public void add(KeyRow key) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement add = connection.prepareStatement(ADD_KEY)) {
            add.setString(1, key.id());
            add.setString(2, key.label());
            add.setString(3, key.role());
            add.setArray(4, connection.createArrayOf("text", key.areas().toArray()));
            add.setBytes(5, HEX.parseHex(key.secretHashHex()));
            add.setTimestamp(6, timestamp(key.until()));
            add.setTimestamp(7, Timestamp.from(key.createdAt()));
            add.setString(8, key.createdBy());
            add.executeUpdate();
        }
    }

    public void dropKey(String id) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement drop = connection.prepareStatement("DELETE FROM api_key WHERE key_id = ?")) {
            drop.setString(1, id);
            drop.executeUpdate();
        }
    }

    private static Timestamp timestamp(Optional<Instant> at) {
        return at.map(Timestamp::from).orElse(null);
    }

    private static final String PEOPLE = """
            SELECT name, role, active, password_hash, token_hash, token_until, created_at, created_by
            FROM person ORDER BY name""";

    private static final String PUT_PERSON = """
            INSERT INTO person
                (name, role, active, password_hash, token_hash, token_until, created_at, created_by)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?)
            ON CONFLICT (name) DO UPDATE SET role = excluded.role, active = excluded.active,
                password_hash = excluded.password_hash, token_hash = excluded.token_hash,
                token_until = excluded.token_until""";

    private static final String SIGN_INS = "SELECT session_hash, person, begun_at, until FROM sign_in";

    private static final String ADD_SIGN_IN =
            "INSERT INTO sign_in (session_hash, person, begun_at, until) VALUES (?, ?, ?, ?)";

    private static final String KEYS = """
            SELECT key_id, label, role, areas, secret_hash, until, created_at, created_by
            FROM api_key ORDER BY created_at""";

    private static final String ADD_KEY = """
            INSERT INTO api_key (key_id, label, role, areas, secret_hash, until, created_at, created_by)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?)""";
}
