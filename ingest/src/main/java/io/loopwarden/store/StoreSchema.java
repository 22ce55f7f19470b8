package io.loopwarden.store;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import javax.sql.DataSource;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.configuration.FluentConfiguration;
import org.flywaydb.database.postgresql.PostgreSQLConfigurationExtension;

/** Brings the store's tables to this program's version. */
final class StoreSchema {

    private static final String LOCATION = "classpath:db/migration/store/";

    private StoreSchema() {}

    static Flavour migrate(DataSource database, boolean timescaleWanted) throws SQLException {
        Flavour flavour = flavour(database, timescaleWanted);
        FluentConfiguration flyway = Flyway.configure(StoreSchema.class.getClassLoader())
                .dataSource(database)
                .locations(LOCATION + "common", LOCATION + (flavour == Flavour.TIMESCALE ? "timescale" : "plain"))
                .failOnMissingLocations(true)
                // Numbers are given out ahead, so a smaller one may be released after a larger.
                .outOfOrder(true)
                .table("store_schema_history");
        // A lock inside a transaction would wait for ever on a server with a single backend.
        flyway.getPluginRegister()
                .getExact(PostgreSQLConfigurationExtension.class)
                .setTransactionalLock(false);
        flyway.load().migrate();
        return flavour;
    }

    private static Flavour flavour(DataSource database, boolean timescaleWanted) throws SQLException {
        try (Connection connection = database.getConnection();
                Statement statement = connection.createStatement()) {
            try (ResultSet row = statement.executeQuery(FRAME_TABLE_KIND)) {
                if (row.next()) {
                    return "p".equals(row.getString(1)) ? Flavour.PLAIN : Flavour.TIMESCALE;
                }
            }
            if (!timescaleWanted) {
                return Flavour.PLAIN;
            }
            try (ResultSet row = statement.executeQuery(TIMESCALE_AVAILABLE)) {
                if (!row.next()) {
                    return Flavour.PLAIN;
                }
            }
            statement.execute("CREATE EXTENSION IF NOT EXISTS timescaledb");
            return Flavour.TIMESCALE;
        }
    }

    private static final String FRAME_TABLE_KIND = "SELECT relkind FROM pg_class WHERE oid = to_regclass('frame')";

    private static final String TIMESCALE_AVAILABLE =
            "SELECT 1 FROM pg_available_extensions WHERE name = 'timescaledb'";
}
