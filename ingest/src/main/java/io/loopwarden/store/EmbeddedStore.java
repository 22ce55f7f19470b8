package io.loopwarden.store;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.File;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.SecureRandom;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;
import javax.sql.DataSource;
import org.postgresql.ds.PGSimpleDataSource;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A PostgreSQL server in a folder of ours, for those who do not want to run one. Listens on loopback only, asks for a password
 * that is made at first start, and does not start without durability. A server that a killed process left running in
 * the same folder is taken over.
 */
public final class EmbeddedStore implements AutoCloseable {

    private static final Logger LOG = LoggerFactory.getLogger(EmbeddedStore.class);

    private static final String USER = "postgres";
    private static final String DATABASE = "postgres";
    private static final int PASSWORD_BYTES = 24;
    private static final Duration START_WAIT = Duration.ofSeconds(60);
    private static final long LOOK_EVERY_NS = 100_000_000;
    /** Settings that make an acknowledged commit survive a crash. */
    private static final List<String> DURABLE = List.of("fsync", "synchronous_commit", "full_page_writes");

    private static final String LOGIN_RULES = """
            # Written by Loopwarden at every start: loopback only, with a password.
            host all all 127.0.0.1/32 scram-sha-256
            host all all ::1/128      scram-sha-256
            """;

    private final EmbeddedPostgres server;
    private final Path data;
    private final String password;

    private EmbeddedStore(EmbeddedPostgres server, Path data, String password) {
        this.server = server;
        this.data = data;
        this.password = password;
    }

    /**
     * Starts the server whose files lie in that folder; makes them if it is empty.
     *
     * @throws IOException if it does not start, or would not be durable; the message says why
     */
    public static EmbeddedStore start(Path folder) throws IOException {
        Files.createDirectories(folder);
        Path root = folder.toRealPath();
        Path data = root.resolve("postgres");
        String password = password(root.resolve("postgres-password"));
        int leftPort = portOfServerLeftRunning(data, password);
        int port = leftPort > 0 ? leftPort : freePort();
        EmbeddedPostgres.Builder builder = EmbeddedPostgres.builder()
                .setDataDirectory(data)
                .setCleanDataDirectory(false)
                // A hook would stop the server while the service is still storing what it has: its owner closes it
                // last.
                .setRegisterShutdownHook(false)
                .setOverrideWorkingDirectory(root.resolve("postgres-program").toFile())
                .setPGStartupWait(START_WAIT)
                .setPort(port)
                .setConnectConfig("password", password)
                .setServerConfig("listen_addresses", "127.0.0.1")
                .setServerConfig("unix_socket_directories", "")
                .setServerConfig("timezone", "UTC")
                .setServerConfig("password_encryption", "scram-sha-256");
        tuning().forEach(builder::setServerConfig);
        DURABLE.forEach(setting -> builder.setServerConfig(setting, "on"));
        EmbeddedStore store = new EmbeddedStore(builder.start(), data, password);
        try {
            store.check();
            store.secure();
        } catch (SQLException | IOException | RuntimeException e) {
            store.close();
            throw new IOException("embedded store in " + root + ": " + e.getMessage(), e);
        }
        LOG.info("embedded PostgreSQL on 127.0.0.1:{}, files in {}", port, data);
        return store;
    }

    /** The database of a server that runs on the files in that folder, for a process beside its owner; empty where none runs. */
    static Optional<DataSource> running(Path folder) throws IOException {
        Path file = folder.resolve("postgres-password");
        if (!Files.exists(file)) {
            throw new IOException("there is no store in " + folder);
        }
        String password = Files.readString(file).strip();
        int port = portOfServerLeftRunning(folder.toRealPath().resolve("postgres"), password);
        return port > 0 ? Optional.of(dataSource(port, password)) : Optional.empty();
    }

    /** Sized for one machine that also runs the service. */
    private static Map<String, String> tuning() {
        return Map.of(
                "shared_buffers", "128MB",
                "max_connections", "50",
                "max_wal_size", "1GB",
                "wal_compression", "off",
                "jit", "off",
                "max_parallel_workers_per_gather", "0");
    }

    private static String password(Path file) throws IOException {
        if (Files.exists(file)) {
            return Files.readString(file).strip();
        }
        byte[] random = new byte[PASSWORD_BYTES];
        new SecureRandom().nextBytes(random);
        String made = HexFormat.of().formatHex(random);
        Files.createFile(file, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")));
        Files.writeString(file, made + "\n");
        return made;
    }

    /** The port of a server that runs on these files already, or 0. */
    private static int portOfServerLeftRunning(Path data, String password) throws IOException {
        Path pidFile = data.resolve("postmaster.pid");
        if (!Files.exists(pidFile)) {
            return 0;
        }
        List<String> lines = Files.readAllLines(pidFile);
        if (lines.size() < 4) {
            return 0;
        }
        long pid = Long.parseLong(lines.get(0).strip());
        int port = Integer.parseInt(lines.get(3).strip());
        long giveUpNs = System.nanoTime() + START_WAIT.toNanos();
        while (true) {
            try (Connection connection = dataSource(port, password).getConnection()) {
                return servesFrom(connection, data) ? port : 0;
            } catch (SQLException e) {
                // One that is still starting or stopping holds the files: wait until it answers or is gone.
                if (!isServer(pid) || refused(e) || System.nanoTime() > giveUpNs) {
                    LOG.debug("no server left running on port {}", port, e);
                    return 0;
                }
                LockSupport.parkNanos(LOOK_EVERY_NS);
            }
        }
    }

    private static boolean isServer(long pid) {
        return ProcessHandle.of(pid)
                .flatMap(process -> process.info().command())
                .filter(command -> command.contains("postgres"))
                .isPresent();
    }

    /** The server answers, and does not want us: SQLSTATE class 28. */
    private static boolean refused(SQLException e) {
        return e.getSQLState() != null && e.getSQLState().startsWith("28");
    }

    private static int freePort() throws IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        }
    }

    private static PGSimpleDataSource dataSource(int port, String password) {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setServerNames(new String[] {"127.0.0.1"});
        source.setPortNumbers(new int[] {port});
        source.setDatabaseName(DATABASE);
        source.setUser(USER);
        source.setPassword(password);
        source.setApplicationName("loopwarden");
        source.setTcpKeepAlive(true);
        return source;
    }

    private void check() throws SQLException, IOException {
        try (Connection connection = dataSource().getConnection()) {
            if (!servesFrom(connection, data)) {
                throw new IOException("the server on port " + port() + " is not ours: it serves "
                        + show(connection, "data_directory"));
            }
            for (String setting : DURABLE) {
                String value = show(connection, setting);
                if (!"on".equals(value)) {
                    throw new IOException(setting + " is " + value + ", must be on: samples would not survive a crash");
                }
            }
        }
    }

    private static boolean servesFrom(Connection connection, Path data) throws SQLException, IOException {
        return new File(show(connection, "data_directory"))
                .toPath()
                .toRealPath()
                .equals(data.toRealPath());
    }

    private static String show(Connection connection, String setting) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery("SHOW " + setting)) {
            row.next();
            return row.getString(1);
        }
    }

    /** The files are made with rules that let every local user in; from here on the password is asked for. */
    private void secure() throws SQLException, IOException {
        try (Connection connection = dataSource().getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute("ALTER ROLE " + USER + " PASSWORD '" + password + "'");
            Files.writeString(data.resolve("pg_hba.conf"), LOGIN_RULES);
            statement.execute("SELECT pg_reload_conf()");
        }
    }

    public int port() {
        return server.getPort();
    }

    /** Where to connect; every call of {@code getConnection} opens one. */
    public DataSource dataSource() {
        return dataSource(port(), password);
    }

    /** For those that take an address: host, port and database; user and password go with it. */
    public String jdbcUrl() {
        return "jdbc:postgresql://127.0.0.1:" + port() + "/" + DATABASE;
    }

    public String user() {
        return USER;
    }

    public String password() {
        return password;
    }

    /** Stops the server; what was committed stays in the folder. */
    @Override
    public void close() {
        try {
            server.close();
        } catch (IOException e) {
            LOG.warn("embedded PostgreSQL in {} did not stop cleanly", data, e);
        }
    }
}
