package io.loopwarden.store;

import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.samplelog.ScanStore;
import io.loopwarden.samplelog.StoreUnavailableException;
import io.loopwarden.samplelog.StoredCounts;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Supplier;
import javax.sql.DataSource;

/**
 * The samples of a fleet in a PostgreSQL database. Opening it brings the schema to this version and becomes the one writer.
 * {@link StoreUpkeep} calls {@link #closeDueHours()} and {@link #keepUp()} in the background.
 */
public final class SampleStore implements ScanStore, AutoCloseable {

    private static final int FRAME_WEEKS = 1;
    private static final int MINUTE_WEEKS = 4;
    private static final int HOUR_WEEKS = 52;

    private final DataSource database;
    private final Flavour flavour;
    private final StoreSettings settings;
    private final Clock clock;
    private final Partitions frames;
    private final Partitions minutes;
    private final Partitions hours;
    private final FrameWriter writer;
    private final SampleReader reader;
    private final HourCloser closer;

    private SampleStore(DataSource database, Flavour flavour, StoreSettings settings, Clock clock) {
        this.database = database;
        this.flavour = flavour;
        this.settings = settings;
        this.clock = clock;
        Dictionary dictionary = new Dictionary();
        Supplier<FrameRows> rows = settings.bulkCopy() ? CopyRows::new : InsertRows::new;
        frames = new Partitions("frame", FRAME_WEEKS, flavour);
        minutes = new Partitions("rollup_minute", MINUTE_WEEKS, flavour);
        hours = new Partitions("rollup_hour", HOUR_WEEKS, flavour);
        writer = new FrameWriter(database, dictionary, frames, rows, settings);
        reader = new SampleReader(database, dictionary);
        closer = new HourCloser(database, dictionary, writer, minutes, hours, rows, settings, clock);
    }

    /**
     * Opens the store.
     *
     * @throws SQLException if the database is away, or another process writes to it; the message says which
     */
    public static SampleStore open(DataSource database, StoreSettings settings, Clock clock) throws SQLException {
        Objects.requireNonNull(database, "database");
        Flavour flavour = StoreSchema.migrate(database, settings.timescale());
        SampleStore store = new SampleStore(database, flavour, settings, clock);
        store.writer.connect();
        store.keepUp();
        return store;
    }

    public Flavour flavour() {
        return flavour;
    }

    public SampleReader reader() {
        return reader;
    }

    @Override
    public StoredCounts store(List<Scan> scans) throws StoreUnavailableException {
        return writer.store(scans);
    }

    /** What became of each unit's samples since the start: stored, repeated, contradicting, late, refused. */
    public Map<UnitId, StoredCounts> countsByUnit() {
        return writer.totals();
    }

    /** Makes the roll-ups of hours that are over and joins their frames; returns how many hours. */
    public int closeDueHours() throws SQLException {
        return closer.closeDue();
    }

    /** Makes partitions ahead and drops what is older than it is to be kept; on TimescaleDB sets the policies that do so. */
    public void keepUp() throws SQLException {
        try (Connection connection = database.getConnection()) {
            if (flavour == Flavour.TIMESCALE) {
                TimescalePolicies.set(connection, settings);
                return;
            }
            Instant now = clock.instant();
            for (int week = 0; week <= FRAME_WEEKS; week++) {
                frames.ensure(connection, Times.nsWithin(now.plus(Duration.ofDays(7L * week))));
            }
            frames.dropBefore(connection, now.minus(settings.keepSamples()));
            minutes.dropBefore(connection, now.minus(settings.keepMinutes()));
            hours.dropBefore(connection, now.minus(settings.keepHours()));
        }
    }

    @Override
    public void close() {
        writer.close();
    }
}
