package io.loopwarden.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Period;

/** Sets how long TimescaleDB keeps each hypertable, and when it compresses. */
final class TimescalePolicies {

    private TimescalePolicies() {}

    static void set(Connection connection, StoreSettings settings) throws SQLException {
        retention(connection, "frame", settings.keepSamples());
        retention(connection, "rollup_minute", settings.keepMinutes());
        retention(connection, "rollup_hour", settings.keepHours());
        compression(connection, "frame", settings.compressAfter());
        compression(connection, "rollup_minute", settings.compressAfter());
    }

    static void set(Connection connection, FigureSettings settings) throws SQLException {
        retention(connection, "figure_minute", settings.keepMinutes());
        retention(connection, "figure_hour", settings.keepHours());
    }

    private static void retention(Connection connection, String table, Period keep) throws SQLException {
        run(connection, "SELECT remove_retention_policy(?::regclass, if_exists => true)", table);
        run(connection, "SELECT add_retention_policy(?::regclass, make_interval(days => ?))", table, keep.getDays());
    }

    private static void compression(Connection connection, String table, Period after) throws SQLException {
        run(connection, "SELECT remove_compression_policy(?::regclass, if_exists => true)", table);
        run(connection, "SELECT add_compression_policy(?::regclass, make_interval(days => ?))", table, after.getDays());
    }

    private static void run(Connection connection, String sql, Object... parameters) throws SQLException {
        try (PreparedStatement statement = connection.prepareStatement(sql)) {
            for (int i = 0; i < parameters.length; i++) {
                statement.setObject(i + 1, parameters[i]);
            }
            statement.execute();
        }
    }
}
