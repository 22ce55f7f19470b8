package io.loopwarden.store;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;

/** Empties a migrated database, which takes far less time than migrating it anew; its partitions go too. */
final class Emptied {

    private static final String OURS = """
            FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relname <> 'store_schema_history'""";

    private Emptied() {}

    static void empty(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            // Tables that refuse to forget do it by triggers; on TimescaleDB here all connections are one backend, so
            // switch back.
            statement.execute("SET session_replication_role = replica");
            for (String partition : names(statement, OURS + " AND relispartition AND relkind = 'r'")) {
                statement.execute("DROP TABLE " + partition);
            }
            List<String> tables = names(statement, OURS + " AND NOT relispartition AND relkind IN ('r', 'p')");
            if (!tables.isEmpty()) {
                statement.execute("TRUNCATE " + String.join(", ", tables) + " RESTART IDENTITY CASCADE");
            }
            for (String sequence : names(statement, OURS + " AND relkind = 'S'")) {
                statement.execute("ALTER SEQUENCE " + sequence + " RESTART");
            }
            statement.execute("SET session_replication_role = DEFAULT");
        }
    }

    private static List<String> names(Statement statement, String from) throws SQLException {
        List<String> names = new ArrayList<>();
        try (ResultSet rows = statement.executeQuery("SELECT quote_ident(relname) " + from)) {
            while (rows.next()) {
                names.add(rows.getString(1));
            }
        }
        return names;
    }
}
