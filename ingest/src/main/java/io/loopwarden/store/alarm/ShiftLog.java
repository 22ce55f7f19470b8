package io.loopwarden.store.alarm;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import javax.sql.DataSource;

/** What a shift tells the next; only ever added to. Any number of threads. */
public final class ShiftLog {

    private final DataSource database;

    public ShiftLog(DataSource database) {
        this.database = database;
    }

    /** Adds a note; one that is there already (by its id) is left as it is. */
    public void add(ShiftNote note) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement insert = connection.prepareStatement(INSERT)) {
            insert.setObject(1, note.id());
            Sql.time(insert, 2, note.at());
            insert.setString(3, note.who());
            insert.setString(4, note.about());
            insert.setString(5, note.note());
            insert.executeUpdate();
        }
    }

    /** Notes of a span, newest first. */
    public List<ShiftNote> between(Instant from, Instant to, int most) throws SQLException {
        List<ShiftNote> notes = new ArrayList<>();
        try (Connection connection = database.getConnection();
                PreparedStatement select = connection.prepareStatement(SELECT)) {
            Sql.time(select, 1, from);
            Sql.time(select, 2, to);
            select.setInt(3, most);
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    notes.add(new ShiftNote(
                            row.getObject("note_id", UUID.class),
                            Sql.time(row, "written_at"),
                            row.getString("who"),
                            row.getString("about"),
                            row.getString("note")));
                }
            }
        }
        return notes;
    }

    private static final String INSERT = """
            INSERT INTO shift_note (note_id, written_at, who, about, note) VALUES (?, ?, ?, ?, ?)
            ON CONFLICT (note_id) DO NOTHING""";

    private static final String SELECT =
            "SELECT * FROM shift_note WHERE written_at >= ? AND written_at < ? ORDER BY written_at DESC LIMIT ?";
}
