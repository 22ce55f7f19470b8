package io.loopwarden.bench;

import io.agroal.api.AgroalDataSource;
import io.agroal.api.configuration.supplier.AgroalDataSourceConfigurationSupplier;
import io.agroal.api.security.NamePrincipal;
import io.agroal.api.security.SimplePassword;
import io.loopwarden.samplelog.LogLimits;
import io.loopwarden.store.EmbeddedStore;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.StoreSettings;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Clock;
import java.time.Duration;
import javax.sql.DataSource;
import org.postgresql.ds.PGSimpleDataSource;

/** A PostgreSQL in a new folder and the service's kind of pool to it. */
final class BenchStore implements AutoCloseable {

    /** As the default, but the producer waits as long as it takes: it is what is measured. */
    static final LogLimits PATIENT = new LogLimits(
            LogLimits.DEFAULT.queuedSamples(),
            Duration.ofMinutes(5),
            LogLimits.DEFAULT.flushSamples(),
            LogLimits.DEFAULT.flushEvery(),
            LogLimits.DEFAULT.retryFirst(),
            LogLimits.DEFAULT.retryMost(),
            LogLimits.DEFAULT.listenerScans(),
            Duration.ofMinutes(1));

    private final Folder folder;
    private final EmbeddedStore server;
    private final AgroalDataSource pool;

    BenchStore() throws Exception {
        folder = Folder.make();
        server = EmbeddedStore.start(folder.path());
        pool = AgroalDataSource.from(new AgroalDataSourceConfigurationSupplier()
                .connectionPoolConfiguration(p -> p.maxSize(10)
                        .acquisitionTimeout(Duration.ofSeconds(5))
                        .connectionFactoryConfiguration(factory -> factory.jdbcUrl(server.jdbcUrl())
                                .principal(new NamePrincipal(server.user()))
                                .credential(new SimplePassword(server.password())))));
    }

    SampleStore open(Clock clock) throws SQLException {
        return SampleStore.open(pool, atOnce(), clock);
    }

    /** For filling only: does not wait for the disk. */
    SampleStore openHasty(Clock clock) throws SQLException {
        PGSimpleDataSource source = server.dataSource().unwrap(PGSimpleDataSource.class);
        source.setOptions("-c synchronous_commit=off");
        return SampleStore.open(source, atOnce(), clock);
    }

    DataSource pool() {
        return pool;
    }

    /** Hours are closed when asked for, however lately they were written. */
    private static StoreSettings atOnce() {
        StoreSettings d = StoreSettings.DEFAULT;
        return new StoreSettings(
                d.bulkCopy(),
                d.timescale(),
                d.closeAfter(),
                Duration.ZERO,
                d.keepSamples(),
                d.keepMinutes(),
                d.keepHours(),
                d.compressAfter(),
                d.networkTimeout());
    }

    void execute(String sql) throws SQLException {
        try (Connection connection = pool.getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    long number(String sql) throws SQLException {
        try (Connection connection = pool.getConnection();
                Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getLong(1);
        }
    }

    /** A table with its partitions and indexes. */
    long bytesOf(String table) throws SQLException {
        return number("SELECT coalesce(sum(pg_total_relation_size(relid)), 0)::bigint FROM pg_partition_tree('" + table
                        + "') WHERE isleaf")
                + number("SELECT CASE relkind WHEN 'r' THEN pg_total_relation_size(oid) ELSE 0 END"
                        + " FROM pg_class WHERE relname = '" + table + "'");
    }

    @Override
    public void close() {
        pool.close();
        server.close();
        folder.close();
    }
}
