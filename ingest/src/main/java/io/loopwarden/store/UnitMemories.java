package io.loopwarden.store;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.watch.UnitMemory;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import javax.sql.DataSource;

/** What each unit's watch remembers, kept over restarts; one row a unit. The schema must be there. */
public final class UnitMemories {

    /** A memory of a year is about 100 kB. */
    private static final int BATCH = 50;

    private final DataSource database;
    private final MemoryCodec codec = new MemoryCodec();

    public UnitMemories(DataSource database) {
        this.database = Objects.requireNonNull(database, "database");
    }

    /** Keeps the memories in place of those before, all or none. */
    public void save(Map<UnitId, UnitMemory> memories, Instant at) throws SQLException {
        try (Connection connection = database.getConnection()) {
            connection.setAutoCommit(false);
            int waiting = 0;
            try (PreparedStatement insert = connection.prepareStatement(SAVE)) {
                for (Map.Entry<UnitId, UnitMemory> memory : memories.entrySet()) {
                    insert.setString(1, memory.getKey().value());
                    insert.setTimestamp(2, Timestamp.from(at));
                    insert.setString(3, codec.encode(memory.getValue()));
                    insert.addBatch();
                    if (++waiting % BATCH == 0) {
                        insert.executeBatch();
                    }
                }
                insert.executeBatch();
                connection.commit();
            } catch (SQLException | RuntimeException e) {
                connection.rollback();
                throw e;
            } finally {
                connection.setAutoCommit(true);
            }
        }
    }

    /**
     * What was kept of a unit, or nothing.
     *
     * @param fresh what a watch of this unit begins with
     */
    public Optional<MemoryCodec.Decoded> load(UnitId unit, UnitMemory fresh) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement select = connection.prepareStatement(LOAD)) {
            select.setString(1, unit.value());
            try (ResultSet row = select.executeQuery()) {
                return row.next() ? Optional.of(codec.decode(row.getString(1), fresh)) : Optional.empty();
            }
        }
    }

    private static final String SAVE = """
            INSERT INTO unit_memory (unit, saved_at, memory) VALUES (?, ?, ?)
            ON CONFLICT (unit) DO UPDATE SET saved_at = excluded.saved_at, memory = excluded.memory
            """;

    private static final String LOAD = "SELECT memory FROM unit_memory WHERE unit = ?";
}
