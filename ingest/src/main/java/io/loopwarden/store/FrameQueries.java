package io.loopwarden.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.Optional;
import java.util.function.IntConsumer;
import org.postgresql.PGStatement;

/** Reads rows of the table {@code frame}. */
final class FrameQueries {

    /** A stored frame as it lies in its row. */
    interface FrameSink {
        void frame(long startNs, int layoutId, byte[] payload) throws SQLException;
    }

    private static final int FETCH_ROWS = 2000;

    private FrameQueries() {}

    /** Frames of the unit that may hold samples from {@code fromNs} to {@code toNs}, both included, in order of their start. */
    static void overlapping(Connection connection, int unitId, long fromNs, long toNs, FrameSink sink)
            throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(OVERLAPPING)) {
            select.setInt(1, unitId);
            // No frame crosses an hour, so none that starts before this hour reaches into the range.
            select.setObject(2, Times.sql(Times.hourOf(fromNs)));
            select.setObject(3, Times.sql(Times.microsAbove(toNs) * 1000));
            select.setObject(4, Times.sql(Times.microsBelow(fromNs) * 1000));
            read(select, sink);
        }
    }

    /** Frames of the unit, the newest first, until the sink has enough. */
    static void newestFirst(Connection connection, int unitId, long fromNs, long beforeNs, int most, FrameSink sink)
            throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(NEWEST_FIRST)) {
            select.setInt(1, unitId);
            select.setObject(2, Times.sql(fromNs));
            select.setObject(3, Times.sql(beforeNs));
            select.setInt(4, most);
            read(select, sink);
        }
    }

    /** From the first to the last sample of the unit, both included. */
    record Span(long fromNs, long toNs) {}

    static Optional<Span> span(Connection connection, int unitId) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(SPAN)) {
            select.setInt(1, unitId);
            try (ResultSet row = select.executeQuery()) {
                row.next();
                OffsetDateTime first = row.getObject(1, OffsetDateTime.class);
                return first == null
                        ? Optional.empty()
                        : Optional.of(new Span(Times.ns(first), Times.ns(row.getObject(2, OffsetDateTime.class))));
            }
        }
    }

    /** All frames of that hour. */
    static void within(Connection connection, HourKey hour, FrameSink sink) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(WITHIN)) {
            bind(select, hour);
            read(select, sink);
        }
    }

    static void layoutsWithin(Connection connection, HourKey hour, IntConsumer sink) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(LAYOUTS_WITHIN)) {
            bind(select, hour);
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    sink.accept(row.getInt(1));
                }
            }
        }
    }

    static void deleteWithin(Connection connection, HourKey hour) throws SQLException {
        try (PreparedStatement delete = connection.prepareStatement(DELETE_WITHIN)) {
            bind(delete, hour);
            delete.executeUpdate();
        }
    }

    private static void bind(PreparedStatement statement, HourKey hour) throws SQLException {
        statement.setInt(1, hour.unitId());
        statement.setObject(2, Times.sql(hour.hourNs()));
        statement.setObject(3, Times.sql(hour.hourNs() + Times.HOUR_NS));
    }

    static void read(PreparedStatement select, FrameSink sink) throws SQLException {
        select.setFetchSize(FETCH_ROWS);
        select.unwrap(PGStatement.class).setPrepareThreshold(binary(select));
        try (ResultSet row = select.executeQuery()) {
            while (row.next()) {
                give(Times.ns(row.getObject(1, OffsetDateTime.class)), row.getInt(2), row.getBytes(3), sink);
            }
        }
    }

    private static void give(long startNs, int layoutId, byte[] payload, FrameSink sink) throws SQLException {
        try {
            sink.frame(startNs, layoutId, payload);
        } catch (CorruptFrameException e) {
            throw new CorruptFrameException("frame of " + payload.length + " bytes from " + Times.instant(startNs)
                    + ", layout " + layoutId + ": " + e.getMessage());
        }
    }

    /** Payloads in binary form from the first call on, unless server-side statements are switched off for the connection. */
    private static int binary(PreparedStatement select) throws SQLException {
        return select.unwrap(PGStatement.class).getPrepareThreshold() == 0 ? 0 : -1;
    }

    /** Time of the unit's newest sample, rounded up to the microsecond; {@link Long#MIN_VALUE} if it has none. */
    static long newest(Connection connection, int unitId) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(NEWEST)) {
            select.setInt(1, unitId);
            select.setInt(2, unitId);
            try (ResultSet row = select.executeQuery()) {
                row.next();
                OffsetDateTime newest = row.getObject(1, OffsetDateTime.class);
                return newest == null ? Long.MIN_VALUE : Times.ns(newest);
            }
        }
    }

    private static final String SPAN = "SELECT min(start_at), max(last_at) FROM frame WHERE unit_id = ?";

    private static final String OVERLAPPING = """
            SELECT start_at, layout_id, payload
            FROM frame
            WHERE unit_id = ? AND start_at >= ? AND start_at <= ? AND last_at >= ?
            ORDER BY start_at""";

    private static final String WITHIN = """
            SELECT start_at, layout_id, payload
            FROM frame
            WHERE unit_id = ? AND start_at >= ? AND start_at < ?
            ORDER BY start_at""";

    private static final String LAYOUTS_WITHIN =
            "SELECT DISTINCT layout_id FROM frame WHERE unit_id = ? AND start_at >= ? AND start_at < ?";

    private static final String DELETE_WITHIN =
            "DELETE FROM frame WHERE unit_id = ? AND start_at >= ? AND start_at < ?";

    private static final String NEWEST_FIRST = """
            SELECT start_at, layout_id, payload
            FROM frame
            WHERE unit_id = ? AND start_at >= ? AND start_at < ?
            ORDER BY start_at DESC
            LIMIT ?""";

    private static final String NEWEST = """
            SELECT max(last_at)
            FROM frame
            WHERE unit_id = ? AND start_at >= (
                SELECT date_trunc('hour', start_at, 'UTC')
                FROM frame
                WHERE unit_id = ?
                ORDER BY start_at DESC
                LIMIT 1)""";
}
