package io.loopwarden.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import javax.sql.DataSource;

/**
 * The audit trail: entries are added, never changed. The newest entry's number and hash are also kept in a file outside the
 * database, so that a trail that was cut short or written anew as a whole shows as well.
 */
public final class AuditTable {

    /** Name of the note in the data folder. */
    public static final String HEAD_FILE = "audit-head";

    private static final HexFormat HEX = HexFormat.of();
    private static final int ROWS_AT_ONCE = 1_000;

    private final DataSource database;
    private final Path headFile;
    private final Clock clock;

    /** @param headFile where the newest entry is noted outside the database */
    public AuditTable(DataSource database, Path headFile, Clock clock) {
        this.database = database;
        this.headFile = headFile;
        this.clock = clock;
    }

    /** Returns once the entry is on disk. */
    public synchronized AuditEntry append(String who, String action, String subject, String detail)
            throws SQLException {
        AuditEntry added;
        try (Connection connection = database.getConnection()) {
            AuditCheck.Head last = last(connection);
            added = new AuditEntry(
                    last.number() + 1,
                    clock.instant(),
                    text(who),
                    text(action),
                    text(subject),
                    text(detail),
                    last.hash());
            insert(connection, added);
        }
        note(added);
        return added;
    }

    /** PostgreSQL cannot keep the character NUL. */
    private static String text(String any) {
        return any.replace('\0', '\uFFFD');
    }

    /** What the next entry follows: the note, so that a changed or shortened table shows, unless the table is ahead of it. */
    private AuditCheck.Head last(Connection connection) throws SQLException {
        AuditCheck.Head noted = head().orElse(new AuditCheck.Head(0, AuditEntry.BEGINNING));
        try (PreparedStatement query = connection.prepareStatement(NEWEST);
                ResultSet row = query.executeQuery()) {
            return row.next() && row.getLong("number") > noted.number()
                    ? new AuditCheck.Head(row.getLong("number"), HEX.formatHex(row.getBytes("hash")))
                    : noted;
        }
    }

    private static void insert(Connection connection, AuditEntry entry) throws SQLException {
        try (PreparedStatement insert = connection.prepareStatement(INSERT)) {
            insert.setLong(1, entry.number());
            insert.setTimestamp(2, Timestamp.from(entry.at()));
            insert.setString(3, entry.who());
            insert.setString(4, entry.action());
            insert.setString(5, entry.subject());
            insert.setString(6, entry.detail());
            insert.setBytes(7, HEX.parseHex(entry.previousHash()));
            insert.setBytes(8, HEX.parseHex(entry.hash()));
            insert.executeUpdate();
        }
    }

    private void note(AuditEntry entry) throws SQLException {
        Path fresh = headFile.resolveSibling(headFile.getFileName() + ".new");
        try {
            Files.writeString(fresh, entry.number() + " " + entry.hash() + "\n");
            Files.move(fresh, headFile, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        } catch (IOException e) {
            throw new SQLException("the newest audit entry cannot be noted in " + headFile + ": " + e.getMessage(), e);
        }
    }

    /** At most {@code most} entries with smaller numbers than {@code before}, newest first. */
    public List<AuditEntry> before(long before, int most) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement query = connection.prepareStatement(BEFORE)) {
            query.setLong(1, before);
            query.setInt(2, most);
            try (ResultSet row = query.executeQuery()) {
                List<AuditEntry> entries = new ArrayList<>();
                while (row.next()) {
                    entries.add(entry(row));
                }
                return entries;
            }
        }
    }

    /** Reads the whole trail and follows the chain. */
    public AuditCheck check() throws SQLException {
        AuditCheck.Walk walk = new AuditCheck.Walk(head());
        try (Connection connection = database.getConnection()) {
            connection.setAutoCommit(false);
            try (PreparedStatement query = connection.prepareStatement(ALL)) {
                query.setFetchSize(ROWS_AT_ONCE);
                try (ResultSet row = query.executeQuery()) {
                    while (row.next()) {
                        walk.next(entry(row), HEX.formatHex(row.getBytes("hash")));
                    }
                }
            } finally {
                connection.rollback();
                connection.setAutoCommit(true);
            }
        }
        return walk.end();
    }

    private Optional<AuditCheck.Head> head() throws SQLException {
        try {
            return Files.exists(headFile)
                    ? Optional.of(AuditCheck.Head.parse(Files.readString(headFile)))
                    : Optional.empty();
        } catch (IOException e) {
            throw new SQLException("the note of the newest audit entry cannot be read: " + e.getMessage(), e);
        }
    }

    private static AuditEntry entry(ResultSet row) throws SQLException {
        return new AuditEntry(
                row.getLong("number"),
                row.getTimestamp("at").toInstant(),
                row.getString("who"),
                row.getString("action"),
                row.getString("subject"),
                row.getString("detail"),
                HEX.formatHex(row.getBytes("previous_hash")));
    }

    private static final String COLUMNS = "number, at, who, action, subject, detail, previous_hash, hash";
    private static final String NEWEST = "SELECT number, hash FROM audit_entry ORDER BY number DESC LIMIT 1";
    private static final String BEFORE =
            "SELECT " + COLUMNS + " FROM audit_entry WHERE number < ? ORDER BY number DESC LIMIT ?";
    private static final String ALL = "SELECT " + COLUMNS + " FROM audit_entry ORDER BY number";
    private static final String INSERT = "INSERT INTO audit_entry (" + COLUMNS + ") VALUES (?, ?, ?, ?, ?, ?, ?, ?)";
}
