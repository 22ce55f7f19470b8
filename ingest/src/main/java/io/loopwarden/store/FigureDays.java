package io.loopwarden.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.Period;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** Makes the hours of a day's figures from its minutes. */
final class FigureDays {

    private static final int HOURS = 24;

    private final Connection connection;
    private final Partitions hours;

    FigureDays(Connection connection, Partitions hours) {
        this.connection = connection;
        this.hours = hours;
    }

    /** Closes the days that ended before that time and are not closed yet; returns how many. */
    int close(Instant endedBefore, Period back) throws SQLException {
        long ns = Times.nsWithin(endedBefore);
        long today = ns - Math.floorMod(ns, Times.DAY_NS);
        int closed = 0;
        for (long day = today - back.getDays() * Times.DAY_NS; day < today; day += Times.DAY_NS) {
            if (!isClosed(day)) {
                close(day);
                closed++;
            }
        }
        return closed;
    }

    private boolean isClosed(long dayNs) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(IS_CLOSED)) {
            select.setObject(1, Times.sql(dayNs));
            try (ResultSet row = select.executeQuery()) {
                return row.next();
            }
        }
    }

    private void close(long dayNs) throws SQLException {
        List<Integer> units = unitsOf(dayNs);
        if (!units.isEmpty()) {
            hours.ensure(connection, dayNs);
        }
        for (int unit : units) {
            write(dayNs, unit, hoursOf(dayNs, unit));
        }
        try (PreparedStatement insert = connection.prepareStatement(CLOSED)) {
            insert.setObject(1, Times.sql(dayNs));
            insert.executeUpdate();
        }
    }

    private List<Integer> unitsOf(long dayNs) throws SQLException {
        List<Integer> units = new ArrayList<>();
        try (PreparedStatement select = connection.prepareStatement(UNITS)) {
            select.setObject(1, Times.sql(dayNs));
            select.setObject(2, Times.sql(dayNs + Times.DAY_NS));
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    units.add(row.getInt(1));
                }
            }
        }
        return units;
    }

    private Map<String, FigureSum[]> hoursOf(long dayNs, int unit) throws SQLException {
        Map<String, FigureSum[]> byKey = new TreeMap<>();
        try (PreparedStatement select = connection.prepareStatement(MINUTES)) {
            select.setInt(1, unit);
            select.setObject(2, Times.sql(dayNs));
            select.setObject(3, Times.sql(dayNs + Times.DAY_NS));
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    add(byKey, dayNs, row);
                }
            }
        }
        return byKey;
    }

    private static void add(Map<String, FigureSum[]> byKey, long dayNs, ResultSet row) throws SQLException {
        long ns = Times.ns(row.getObject(1, OffsetDateTime.class));
        String[] keys = (String[]) row.getArray(2).getArray();
        Float[] values = (Float[]) row.getArray(3).getArray();
        Float[] uncertainties = (Float[]) row.getArray(4).getArray();
        Short[] reasons = (Short[]) row.getArray(5).getArray();
        int hour = (int) ((ns - dayNs) / Times.HOUR_NS);
        for (int k = 0; k < keys.length; k++) {
            FigureSum[] sums = byKey.computeIfAbsent(keys[k], key -> new FigureSum[HOURS]);
            if (sums[hour] == null) {
                sums[hour] = new FigureSum();
            }
            sums[hour].minute(ns, values[k], uncertainties[k], reasons[k] == null ? 0 : reasons[k]);
        }
    }

    private void write(long dayNs, int unit, Map<String, FigureSum[]> byKey) throws SQLException {
        try (PreparedStatement insert = connection.prepareStatement(INSERT)) {
            for (Map.Entry<String, FigureSum[]> key : byKey.entrySet()) {
                Short[] values = new Short[HOURS];
                Short[] gaps = new Short[HOURS];
                Short[] reasons = new Short[HOURS];
                Float[][] numbers = new Float[4][HOURS];
                for (int h = 0; h < HOURS; h++) {
                    FigureSum sum = key.getValue()[h];
                    if (sum != null) {
                        values[h] = (short) sum.values;
                        gaps[h] = (short) sum.gaps;
                        reasons[h] = (short) sum.reason;
                    }
                    if (sum != null && sum.values > 0) {
                        numbers[0][h] = (float) sum.min;
                        numbers[1][h] = (float) sum.max;
                        numbers[2][h] = (float) sum.mean();
                        numbers[3][h] = (float) sum.uncertainty();
                    }
                }
                insert.setObject(1, Times.sql(dayNs));
                insert.setInt(2, unit);
                insert.setString(3, key.getKey());
                insert.setArray(4, connection.createArrayOf("int2", values));
                insert.setArray(5, connection.createArrayOf("int2", gaps));
                for (int n = 0; n < numbers.length; n++) {
                    insert.setArray(6 + n, connection.createArrayOf("float4", numbers[n]));
                }
                insert.setArray(10, connection.createArrayOf("int2", reasons));
                insert.addBatch();
            }
            insert.executeBatch();
        }
    }

    private static final String IS_CLOSED = "SELECT 1 FROM figure_day_closed WHERE day_start = ?";

    private static final String CLOSED = "INSERT INTO figure_day_closed (day_start) VALUES (?) ON CONFLICT DO NOTHING";

    private static final String UNITS =
            "SELECT DISTINCT unit_id FROM figure_minute WHERE minute_at >= ? AND minute_at < ? ORDER BY unit_id";

    private static final String MINUTES = """
            SELECT f.minute_at, l.keys, f.value, f.uncertainty, f.reason
            FROM figure_minute f JOIN figure_layout l USING (layout_id)
            WHERE f.unit_id = ? AND f.minute_at >= ? AND f.minute_at < ?
            ORDER BY f.minute_at""";

    private static final String INSERT = """
            INSERT INTO figure_hour (day_start, unit_id, key, value_count, gap_count, min_value, max_value, mean_value, uncertainty,
                reason)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            ON CONFLICT DO NOTHING""";
}
