package io.loopwarden.store;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Supplier;
import javax.sql.DataSource;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Closes hours that are over: makes their roll-ups from all their samples, and joins their many small frames into one. A late
 * sample makes its hour due once more. One transaction an hour; the writer goes on meanwhile.
 */
final class HourCloser {

    private static final Logger LOG = LoggerFactory.getLogger(HourCloser.class);

    private static final int HOURS_A_ROUND = 2000;
    /** Frames of an hour with more samples than this stay as they are: joining takes about 40 bytes of memory a sample. */
    private static final int MOST_JOINED_SAMPLES = 4_000_000;

    private static final String SERIALIZATION_FAILURE = "40001";

    private record Seen(long mark, Instant since) {}

    private final DataSource database;
    private final Dictionary dictionary;
    private final FrameWriter writer;
    private final Partitions minutePartitions;
    private final Partitions hourPartitions;
    private final Supplier<FrameRows> newRows;
    private final StoreSettings settings;
    private final Clock clock;
    private final Map<HourKey, Seen> seen = new HashMap<>();

    HourCloser(
            DataSource database,
            Dictionary dictionary,
            FrameWriter writer,
            Partitions minutePartitions,
            Partitions hourPartitions,
            Supplier<FrameRows> newRows,
            StoreSettings settings,
            Clock clock) {
        this.database = database;
        this.dictionary = dictionary;
        this.writer = writer;
        this.minutePartitions = minutePartitions;
        this.hourPartitions = hourPartitions;
        this.newRows = newRows;
        this.settings = settings;
        this.clock = clock;
    }

    /** Closes what is due and settled; returns how many hours were closed. */
    synchronized int closeDue() throws SQLException {
        try (Connection connection = database.getConnection()) {
            Map<HourKey, Long> due = due(connection);
            // After this, whatever the writer adds to one of these hours changes the hour's mark.
            writer.forget(due.keySet());
            seen.keySet().retainAll(due.keySet());
            int done = 0;
            for (Map.Entry<HourKey, Long> entry : due.entrySet()) {
                if (settled(entry.getKey(), entry.getValue())
                        && closeUnlessCorrupt(connection, entry.getKey(), entry.getValue())) {
                    seen.remove(entry.getKey());
                    done++;
                }
            }
            return done;
        }
    }

    private Map<HourKey, Long> due(Connection connection) throws SQLException {
        long endedNs = Times.nsWithin(clock.instant().minus(settings.closeAfter())) - Times.HOUR_NS;
        Map<HourKey, Long> due = new LinkedHashMap<>();
        try (PreparedStatement select = connection.prepareStatement(DUE)) {
            select.setObject(1, Times.sql(endedNs));
            select.setInt(2, HOURS_A_ROUND);
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    due.put(
                            new HourKey(row.getInt(1), Times.ns(row.getObject(2, OffsetDateTime.class))),
                            row.getLong(3));
                }
            }
        }
        return due;
    }

    private boolean settled(HourKey hour, long mark) {
        Instant now = clock.instant();
        Seen before = seen.get(hour);
        if (before == null || before.mark() != mark) {
            before = new Seen(mark, now);
            seen.put(hour, before);
        }
        return !now.isBefore(before.since().plus(settings.settleFor()));
    }

    /** One damaged frame must not keep all later hours open; its hour stays due and is read from its frames. */
    private boolean closeUnlessCorrupt(Connection connection, HourKey hour, long mark) throws SQLException {
        try {
            return close(connection, hour, mark);
        } catch (CorruptFrameException e) {
            LOG.error("{} cannot be closed: {}", hour, e.getMessage());
            return false;
        }
    }

    private boolean close(Connection connection, HourKey hour, long mark) throws SQLException {
        minutePartitions.ensure(connection, hour.hourNs());
        hourPartitions.ensure(connection, hour.hourNs());
        Set<Integer> layoutIds = layoutIds(connection, hour);
        List<Layout> joined = joinedLayouts(connection, layoutIds);
        connection.setAutoCommit(false);
        // One snapshot: what is read is what is deleted, and frames that come meanwhile stay.
        connection.setTransactionIsolation(Connection.TRANSACTION_REPEATABLE_READ);
        boolean done = false;
        try {
            done = closeWithin(connection, hour, mark, layoutIds, joined);
            return done;
        } catch (SQLException e) {
            if (SERIALIZATION_FAILURE.equals(e.getSQLState())) {
                LOG.debug("more samples came for {} while it was closed; it is closed again later", hour);
                return false;
            }
            throw e;
        } finally {
            // Switching auto-commit on would commit: whatever went wrong must be rolled back first.
            if (done) {
                connection.commit();
            } else {
                connection.rollback();
            }
            connection.setAutoCommit(true);
            connection.setTransactionIsolation(Connection.TRANSACTION_READ_COMMITTED);
        }
    }

    private boolean closeWithin(
            Connection connection, HourKey hour, long mark, Set<Integer> layoutIds, List<Layout> joined)
            throws SQLException {
        noWaitForDisk(connection);
        UnitHour samples = new UnitHour(dictionary);
        boolean[] surprise = {false};
        FrameQueries.within(connection, hour, (startNs, layoutId, payload) -> {
            surprise[0] |= !layoutIds.contains(layoutId);
            if (!surprise[0]) {
                samples.add(connection, startNs, layoutId, payload);
            }
        });
        if (surprise[0]) {
            return false;
        }
        writeRollups(connection, hour, samples.points());
        if (samples.frames() > joined.size() && samples.size() <= MOST_JOINED_SAMPLES) {
            join(connection, hour, samples, joined);
        }
        try (PreparedStatement delete = connection.prepareStatement(DELETE_DUE)) {
            delete.setInt(1, hour.unitId());
            delete.setObject(2, Times.sql(hour.hourNs()));
            delete.setLong(3, mark);
            delete.executeUpdate();
        }
        return true;
    }

    /** A crash may undo the closing as a whole; then the hour is still due. Nothing of the sources is at stake. */
    private static void noWaitForDisk(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute("SET LOCAL synchronous_commit = off");
        }
    }

    private void writeRollups(Connection connection, HourKey hour, Map<PointName, PointSamples> points)
            throws SQLException {
        try (PreparedStatement minutes = RollupTables.minuteStatement(connection);
                PreparedStatement hours = RollupTables.hourStatement(connection)) {
            for (Map.Entry<PointName, PointSamples> point : points.entrySet()) {
                int pointId =
                        dictionary.knownPointId(connection, point.getKey()).orElseThrow();
                RollupTables.add(connection, minutes, hours, hour, pointId, point.getValue());
            }
            minutes.executeBatch();
            hours.executeBatch();
        }
    }

    private void join(Connection connection, HourKey hour, UnitHour samples, List<Layout> joined) throws SQLException {
        FrameRows rows = newRows.get();
        for (Layout layout : joined) {
            HourBuffer buffer = samples.buffer(hour.hourNs(), layout);
            if (buffer.samples() > 0) {
                rows.add(hour.unitId(), buffer);
            }
        }
        FrameQueries.deleteWithin(connection, hour);
        rows.send(connection);
    }

    private static Set<Integer> layoutIds(Connection connection, HourKey hour) throws SQLException {
        Set<Integer> ids = new TreeSet<>();
        FrameQueries.layoutsWithin(connection, hour, ids::add);
        return ids;
    }

    /** As few layouts as hold all columns of the given ones: one, unless a point's conversion changed. */
    private List<Layout> joinedLayouts(Connection connection, Set<Integer> layoutIds) throws SQLException {
        List<SortedMap<PointName, Conversion>> contents = new ArrayList<>();
        for (int id : layoutIds) {
            Layout layout = dictionary.layout(connection, id);
            for (int c = 0; c < layout.size(); c++) {
                place(contents, layout.point(c), layout.conversion(c));
            }
        }
        List<Layout> layouts = new ArrayList<>();
        for (SortedMap<PointName, Conversion> content : contents) {
            layouts.add(dictionary.layoutOf(connection, content));
        }
        return layouts;
    }

    private static void place(List<SortedMap<PointName, Conversion>> contents, PointName point, Conversion conversion) {
        for (SortedMap<PointName, Conversion> content : contents) {
            Conversion there = content.putIfAbsent(point, conversion);
            if (there == null || there.equals(conversion)) {
                return;
            }
        }
        contents.add(new TreeMap<>(Map.of(point, conversion)));
    }

    private static final String DUE = """
            SELECT unit_id, hour_start, mark
            FROM hour_due
            WHERE hour_start <= ?
            ORDER BY hour_start
            LIMIT ?""";

    private static final String DELETE_DUE = "DELETE FROM hour_due WHERE unit_id = ? AND hour_start = ? AND mark = ?";
}
