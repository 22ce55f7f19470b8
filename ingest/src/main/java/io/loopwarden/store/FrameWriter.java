package io.loopwarden.store;

import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.samplelog.ScanStore;
import io.loopwarden.samplelog.StoreUnavailableException;
import io.loopwarden.samplelog.StoredCounts;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Executor;
import java.util.function.Supplier;
import javax.sql.DataSource;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The one writer of a database. Holds a lock there as long as its connection lives, so that a second writer is refused. */
final class FrameWriter implements ScanStore, AutoCloseable {

    private static final Logger LOG = LoggerFactory.getLogger(FrameWriter.class);

    /** "loopward" in ASCII. */
    private static final long WRITER_LOCK = 0x6C6F6F7077617264L;

    private static final Executor AT_ONCE = Runnable::run;

    private final DataSource database;
    private final Dictionary dictionary;
    private final Partitions partitions;
    private final Supplier<FrameRows> newRows;
    private final StoreSettings settings;
    private final Map<UnitId, StoredCounts> totals = new ConcurrentHashMap<>();
    private WriterSession session;

    FrameWriter(
            DataSource database,
            Dictionary dictionary,
            Partitions partitions,
            Supplier<FrameRows> newRows,
            StoreSettings settings) {
        this.database = database;
        this.dictionary = dictionary;
        this.partitions = partitions;
        this.newRows = newRows;
        this.settings = settings;
    }

    @Override
    public synchronized StoredCounts store(List<Scan> scans) throws StoreUnavailableException {
        boolean done = false;
        try {
            connect();
            StoredCounts counts = session.store(scans);
            done = true;
            return counts;
        } catch (SQLException e) {
            throw new StoreUnavailableException(e.getMessage(), e);
        } catch (AssertionError e) {
            // The driver asserts that a connection does not break within a batch. It does.
            throw new StoreUnavailableException("connection broke within a batch: " + e.getMessage(), e);
        } finally {
            if (!done) {
                disconnect();
            }
        }
    }

    /** What became of each unit's samples since the start. */
    Map<UnitId, StoredCounts> totals() {
        return Map.copyOf(totals);
    }

    /** Becomes the writer now instead of with the first scan. */
    synchronized void connect() throws SQLException {
        if (session != null) {
            return;
        }
        Connection connection = database.getConnection();
        boolean ours = false;
        try {
            connection.setNetworkTimeout(
                    AT_ONCE, (int) settings.networkTimeout().toMillis());
            lock(connection);
            session = new WriterSession(connection, dictionary, partitions, newRows.get(), totals);
            ours = true;
        } finally {
            if (!ours) {
                connection.close();
            }
        }
    }

    private static void lock(Connection connection) throws SQLException {
        try (PreparedStatement lock = connection.prepareStatement("SELECT pg_try_advisory_lock(?)")) {
            lock.setLong(1, WRITER_LOCK);
            try (ResultSet row = lock.executeQuery()) {
                row.next();
                if (row.getBoolean(1)) {
                    return;
                }
            }
        }
        throw new SQLException("another process writes samples to this database" + holder(connection)
                + "; a database has one writer at a time");
    }

    private static String holder(Connection connection) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(LOCK_HOLDER)) {
            select.setLong(1, WRITER_LOCK >>> 32);
            select.setLong(2, WRITER_LOCK & 0xFFFF_FFFFL);
            try (ResultSet row = select.executeQuery()) {
                return row.next()
                        ? " (server process " + row.getInt(1) + ", '" + row.getString(2) + "', since "
                                + row.getString(3) + ")"
                        : "";
            }
        }
    }

    /** From now on, samples for this hour mark it due again. Waits for a write under way. */
    synchronized void forget(Collection<HourKey> hours) {
        if (session != null) {
            hours.forEach(session::forget);
        }
    }

    private void disconnect() {
        if (session == null) {
            return;
        }
        try {
            // Ends the server's session too, and with it the lock, even when the connection came from a pool.
            session.connection().abort(AT_ONCE);
            session.connection().close();
        } catch (SQLException e) {
            LOG.debug("connection was broken already", e);
        }
        session = null;
    }

    @Override
    public synchronized void close() {
        if (session == null) {
            return;
        }
        try (PreparedStatement unlock = session.connection().prepareStatement("SELECT pg_advisory_unlock(?)")) {
            unlock.setLong(1, WRITER_LOCK);
            unlock.execute();
            session.connection().close();
        } catch (SQLException e) {
            LOG.debug("connection was broken at close", e);
        }
        session = null;
    }

    private static final String LOCK_HOLDER = """
            SELECT a.pid, a.application_name, a.backend_start::timestamptz(0)::text
            FROM pg_locks l JOIN pg_stat_activity a ON a.pid = l.pid
            WHERE l.locktype = 'advisory' AND l.granted
              AND l.classid::bigint = ? AND l.objid::bigint = ?
              AND l.database = (SELECT oid FROM pg_database WHERE datname = current_database())""";
}
