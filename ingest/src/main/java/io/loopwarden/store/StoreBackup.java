package io.loopwarden.store;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.security.DigestInputStream;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;
import javax.sql.DataSource;
import org.postgresql.PGConnection;

/**
 * All tables of a store as one file, taken while the service goes on, and put back into an empty database: on the same server or another
 * one. Each table's rows are counted and hashed, and both are checked on the way back.
 */
public final class StoreBackup {

    /** What the file says of itself. */
    record Manifest(
            String schemaVersion,
            boolean timescale,
            List<Table> tables,
            List<String> partitions,
            Map<String, Long> sequences) {}

    record Table(String name, List<String> columns, long rows, String sha256) {}

    private static final String MANIFEST = "manifest.json";
    private static final int BUFFER_BYTES = 1 << 16;
    private static final ObjectMapper JSON = new ObjectMapper().enable(SerializationFeature.INDENT_OUTPUT);

    private StoreBackup() {}

    /** Writes the tables as they are at one moment; answers the number of rows. */
    public static long write(DataSource database, Path file) throws SQLException, IOException {
        Path unfinished = file.resolveSibling(file.getFileName() + ".part");
        long rows = 0;
        try (Connection connection = database.getConnection();
                ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(unfinished))) {
            connection.setAutoCommit(false);
            try (Statement statement = connection.createStatement()) {
                statement.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY");
            }
            List<Table> tables = new ArrayList<>();
            for (String name : names(connection, TABLES)) {
                Table table = write(connection, name, zip);
                tables.add(table);
                rows += table.rows();
            }
            Manifest manifest = new Manifest(
                    schemaVersion(connection),
                    isTimescale(connection),
                    tables,
                    names(connection, PARTITIONS),
                    sequences(connection));
            zip.putNextEntry(new ZipEntry(MANIFEST));
            zip.write(JSON.writeValueAsBytes(manifest));
            zip.closeEntry();
            connection.rollback();
        }
        Files.move(unfinished, file, StandardCopyOption.REPLACE_EXISTING);
        return rows;
    }

    private static Table write(Connection connection, String name, ZipOutputStream zip)
            throws SQLException, IOException {
        List<String> columns = columns(connection, name);
        zip.putNextEntry(new ZipEntry("tables/" + name));
        DigestOutputStream hashed = new DigestOutputStream(new Unclosed(zip), sha256());
        String query = "COPY (SELECT " + quoted(columns) + " FROM \"" + name + "\") TO STDOUT (FORMAT binary)";
        long rows = connection.unwrap(PGConnection.class).getCopyAPI().copyOut(query, hashed);
        zip.closeEntry();
        return new Table(
                name,
                columns,
                rows,
                HexFormat.of().formatHex(hashed.getMessageDigest().digest()));
    }

    /**
     * Puts a backup into a database that has no tables of a store yet; answers the number of rows.
     *
     * @throws IOException if the file is damaged, newer than this program, or the database is not empty
     */
    public static long restore(Path file, DataSource database) throws SQLException, IOException {
        try (ZipFile zip = new ZipFile(file.toFile())) {
            ZipEntry entry = zip.getEntry(MANIFEST);
            if (entry == null) {
                throw new IOException(file + " is no backup: it has no " + MANIFEST);
            }
            Manifest manifest = JSON.readValue(zip.getInputStream(entry), Manifest.class);
            try (Connection connection = database.getConnection()) {
                if (!names(connection, TABLES).isEmpty()) {
                    throw new IOException("the database is not empty; restore into a new one, then change over");
                }
            }
            StoreSchema.migrate(database, manifest.timescale());
            try (Connection connection = database.getConnection()) {
                checkVersion(manifest, schemaVersion(connection));
                connection.setAutoCommit(false);
                long rows = restore(zip, manifest, connection);
                connection.commit();
                return rows;
            }
        }
    }

    private static void checkVersion(Manifest manifest, String ours) throws IOException {
        if (Integer.parseInt(manifest.schemaVersion()) > Integer.parseInt(ours)) {
            throw new IOException("the backup has schema version " + manifest.schemaVersion() + ", this program " + ours
                    + "; restore with the program that made it, or a newer one");
        }
    }

    private static long restore(ZipFile zip, Manifest manifest, Connection connection)
            throws SQLException, IOException {
        try (Statement statement = connection.createStatement()) {
            if (!manifest.timescale()) {
                for (String partition : manifest.partitions()) {
                    statement.execute(partition);
                }
            }
            for (Table table : manifest.tables()) {
                statement.execute("TRUNCATE \"" + table.name() + "\" CASCADE");
            }
        }
        long rows = 0;
        for (Table table : manifest.tables()) {
            rows += restore(zip, table, connection);
        }
        try (PreparedStatement set = connection.prepareStatement("SELECT setval(?::regclass, ?)")) {
            for (Map.Entry<String, Long> sequence : manifest.sequences().entrySet()) {
                set.setString(1, "\"" + sequence.getKey() + "\"");
                set.setLong(2, sequence.getValue());
                set.execute();
            }
        }
        return rows;
    }

    private static long restore(ZipFile zip, Table table, Connection connection) throws SQLException, IOException {
        ZipEntry entry = zip.getEntry("tables/" + table.name());
        if (entry == null) {
            throw new IOException(zip.getName() + " lacks the table " + table.name());
        }
        try (DigestInputStream hashed = new DigestInputStream(zip.getInputStream(entry), sha256())) {
            String command =
                    "COPY \"" + table.name() + "\" (" + quoted(table.columns()) + ") FROM STDIN (FORMAT binary)";
            long rows = connection.unwrap(PGConnection.class).getCopyAPI().copyIn(command, hashed, BUFFER_BYTES);
            String found = HexFormat.of().formatHex(hashed.getMessageDigest().digest());
            if (rows != table.rows() || !found.equals(table.sha256())) {
                throw new IOException(zip.getName() + " is damaged: table " + table.name() + " has " + rows
                        + " rows of " + table.rows() + " and hash " + found);
            }
            return rows;
        }
    }

    private static List<String> names(Connection connection, String query) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(query)) {
            List<String> names = new ArrayList<>();
            while (row.next()) {
                names.add(row.getString(1));
            }
            return names;
        }
    }

    private static List<String> columns(Connection connection, String table) throws SQLException {
        try (PreparedStatement query = connection.prepareStatement(COLUMNS)) {
            query.setString(1, table);
            try (ResultSet row = query.executeQuery()) {
                List<String> columns = new ArrayList<>();
                while (row.next()) {
                    columns.add(row.getString(1));
                }
                return columns;
            }
        }
    }

    private static Map<String, Long> sequences(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(SEQUENCES)) {
            Map<String, Long> sequences = new LinkedHashMap<>();
            while (row.next()) {
                sequences.put(row.getString(1), row.getLong(2));
            }
            return sequences;
        }
    }

    private static String schemaVersion(Connection connection) throws SQLException {
        return names(connection, VERSION).get(0);
    }

    private static boolean isTimescale(Connection connection) throws SQLException {
        return !names(connection, "SELECT extname FROM pg_extension WHERE extname = 'timescaledb'")
                .isEmpty();
    }

    private static String quoted(List<String> names) {
        return "\"" + String.join("\", \"", names) + "\"";
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    /** The zip goes on after an entry. */
    private static final class Unclosed extends java.io.FilterOutputStream {
        Unclosed(OutputStream out) {
            super(out);
        }

        @Override
        public void write(byte[] bytes, int from, int length) throws IOException {
            out.write(bytes, from, length);
        }

        @Override
        public void close() throws IOException {
            flush();
        }
    }

    /** Tables that others refer to come first. */
    private static final String TABLES = """
            SELECT c.relname FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
            WHERE n.nspname = current_schema() AND c.relkind IN ('r', 'p') AND NOT c.relispartition
                AND c.relname <> 'store_schema_history'
            ORDER BY (SELECT count(*) FROM pg_constraint f WHERE f.conrelid = c.oid AND f.contype = 'f'), c.relname""";

    private static final String PARTITIONS = """
            SELECT format('CREATE TABLE IF NOT EXISTS %I PARTITION OF %I %s', child.relname, parent.relname,
                pg_get_expr(child.relpartbound, child.oid))
            FROM pg_inherits i JOIN pg_class child ON child.oid = i.inhrelid JOIN pg_class parent ON parent.oid = i.inhparent
                JOIN pg_namespace n ON n.oid = parent.relnamespace
            WHERE n.nspname = current_schema() AND parent.relkind = 'p' AND child.relispartition
            ORDER BY child.relname""";

    private static final String COLUMNS = """
            SELECT column_name FROM information_schema.columns
            WHERE table_schema = current_schema() AND table_name = ? AND is_generated = 'NEVER'
            ORDER BY ordinal_position""";

    private static final String SEQUENCES = """
            SELECT sequencename, last_value FROM pg_sequences
            WHERE schemaname = current_schema() AND last_value IS NOT NULL ORDER BY sequencename""";

    private static final String VERSION =
            "SELECT max(version::integer)::text FROM store_schema_history WHERE success AND version IS NOT NULL";
}
