package io.loopwarden.store;

import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.replay.ReplayException;
import io.loopwarden.replay.ReplaySource;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import javax.sql.DataSource;
import org.postgresql.ds.PGSimpleDataSource;

/** A unit's stored samples and maintenance entries, for a replay; beside the running service or without it. */
public final class StoredHistory implements ReplaySource, AutoCloseable {

    /** Read piece by piece, so that no snapshot is held for as long as a replay takes. */
    private static final Duration PIECE = Duration.ofHours(6);

    private final Optional<EmbeddedStore> started;
    private final DataSource database;
    private final UnitId unit;
    private final Instant from;
    private final Instant to;
    private Instant at;

    private StoredHistory(Optional<EmbeddedStore> started, DataSource database, UnitId unit, Instant from, Instant to) {
        this.started = started;
        this.database = database;
        this.unit = unit;
        this.from = from;
        this.to = to;
        this.at = from;
    }

    /**
     * Opens the history.
     *
     * @param store folder of the service's own store (its server is used if it runs, and started if not), or a JDBC address
     * @throws ReplayException if there is no such store or it holds no sample of the unit in that time
     */
    public static StoredHistory open(String store, UnitId unit, Instant from, Instant to) {
        Optional<EmbeddedStore> started = Optional.empty();
        try {
            DataSource database;
            if (store.startsWith("jdbc:")) {
                database = database(store);
            } else {
                Optional<DataSource> running = EmbeddedStore.running(Path.of(store));
                if (running.isEmpty()) {
                    started = Optional.of(EmbeddedStore.start(Path.of(store)));
                }
                database = running.orElseGet(started.map(EmbeddedStore::dataSource)::orElseThrow);
            }
            return of(started, database, unit, from, to);
        } catch (IOException | SQLException e) {
            started.ifPresent(EmbeddedStore::close);
            throw new ReplayException("store " + store + " cannot be read: " + e.getMessage(), e);
        } catch (ReplayException e) {
            started.ifPresent(EmbeddedStore::close);
            throw e;
        }
    }

    /** The database at a JDBC address, for a command; user and password come from its environment. */
    public static DataSource database(String url) {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setUrl(url);
        Optional.ofNullable(System.getenv("LOOPWARDEN_STORE_USER")).ifPresent(source::setUser);
        Optional.ofNullable(System.getenv("LOOPWARDEN_STORE_PASSWORD")).ifPresent(source::setPassword);
        return source;
    }

    static StoredHistory of(Optional<EmbeddedStore> started, DataSource database, UnitId unit, Instant from, Instant to)
            throws SQLException {
        Optional<SampleReader.Span> span = new SampleReader(database).span(unit);
        Instant begin = span.map(s -> later(s.from(), from)).orElse(to);
        Instant end = span.map(s -> earlier(s.to(), to)).orElse(from);
        if (!begin.isBefore(end)) {
            throw new ReplayException("no sample of " + unit + " is stored from " + from + " to " + to
                    + span.map(s -> "; there are from " + s.from() + " to " + s.to())
                            .orElse(""));
        }
        return new StoredHistory(started, database, unit, begin, end);
    }

    private static Instant later(Instant a, Instant b) {
        return a.isAfter(b) ? a : b;
    }

    private static Instant earlier(Instant a, Instant b) {
        return a.isBefore(b) ? a : b;
    }

    @Override
    public void samples(Consumer<Sample> each) {
        SampleReader reader = new SampleReader(database);
        try {
            for (at = from; at.isBefore(to); at = earlier(to, at.plus(PIECE))) {
                reader.samples(unit, at, earlier(to, at.plus(PIECE)), each);
            }
        } catch (SQLException e) {
            throw new ReplayException(
                    "samples of " + unit + " from " + at + " on cannot be read: " + e.getMessage(), e);
        }
    }

    @Override
    public double doneRatio() {
        return (double) Duration.between(from, at).toSeconds()
                / Math.max(1, Duration.between(from, to).toSeconds());
    }

    /** What was written about the unit. */
    public List<MaintenanceEntry> maintenance() {
        try {
            return new MaintenanceStore(database).of(unit);
        } catch (SQLException e) {
            throw new ReplayException("maintenance entries of " + unit + " cannot be read: " + e.getMessage(), e);
        }
    }

    @Override
    public void close() {
        started.ifPresent(EmbeddedStore::close);
    }
}
