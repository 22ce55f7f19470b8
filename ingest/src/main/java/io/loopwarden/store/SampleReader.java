package io.loopwarden.store;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.UnitId;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Consumer;
import javax.sql.DataSource;

/** Reads samples back, as they came or summed up for a picture. Any number of threads. */
public final class SampleReader {

    /** Widest picture that is answered. */
    public static final int MOST_BUCKETS = 20_000;

    private final DataSource database;
    private final Dictionary dictionary;

    /** A reader on its own, for a process that does not write; the schema must be there. */
    public SampleReader(DataSource database) {
        this(database, new Dictionary());
    }

    SampleReader(DataSource database, Dictionary dictionary) {
        this.database = Objects.requireNonNull(database, "database");
        this.dictionary = dictionary;
    }

    /** The newest sample of each point of the unit, in order of the points' names. Looks back over some 10 days. */
    public List<Sample> latest(UnitId unit) throws SQLException {
        try (Snapshot snapshot = new Snapshot(database)) {
            Connection connection = snapshot.connection();
            Optional<Integer> unitId = dictionary.knownUnitId(connection, unit);
            return unitId.isEmpty() ? List.of() : new LatestSamples(connection, dictionary, unitId.get()).read();
        }
    }

    /** One point's samples from {@code from} (included) to {@code to} (not included), in order of time. */
    public void samples(UnitId unit, PointName point, Instant from, Instant to, Consumer<Sample> each)
            throws SQLException {
        stream(unit, from, to, new HourStream.OnePoint(point, each));
    }

    /** All the unit's samples in order of time; samples of one time in order of their points' names. For replay. */
    public void samples(UnitId unit, Instant from, Instant to, Consumer<Sample> each) throws SQLException {
        stream(unit, from, to, new HourStream.AllPoints(each));
    }

    /** Times of the unit's first and last stored sample, to the microsecond below and above; empty where there is none. */
    public Optional<Span> span(UnitId unit) throws SQLException {
        try (Snapshot snapshot = new Snapshot(database)) {
            Optional<Integer> unitId = dictionary.knownUnitId(snapshot.connection(), unit);
            return unitId.isEmpty()
                    ? Optional.empty()
                    : FrameQueries.span(snapshot.connection(), unitId.get())
                            .map(s -> new Span(Times.instant(s.fromNs()), Times.instant(s.toNs() + 1000)));
        }
    }

    /** A stretch of time. */
    public record Span(Instant from, Instant to) {}

    private void stream(UnitId unit, Instant from, Instant to, HourStream.Target target) throws SQLException {
        try (Snapshot snapshot = new Snapshot(database)) {
            Optional<Integer> unitId = dictionary.knownUnitId(snapshot.connection(), unit);
            if (unitId.isPresent()) {
                new HourStream(snapshot.connection(), dictionary, target)
                        .run(unitId.get(), Times.nsWithin(from), Times.nsWithin(to));
            }
        }
    }

    /**
     * One point from {@code from} to {@code to} in at most {@code width} buckets and one more; from samples, or from roll-ups of
     * 1 minute or 1 hour where the buckets are that long. The first and last bucket are whole, even where the range begins or
     * ends within them.
     */
    public Series series(UnitId unit, PointName point, Instant from, Instant to, int width) throws SQLException {
        if (width < 1 || width > MOST_BUCKETS) {
            throw new IllegalArgumentException("width is " + width + ", must be 1 to " + MOST_BUCKETS);
        }
        long fromNs = Times.nsWithin(from);
        long toNs = Times.nsWithin(to);
        if (toNs <= fromNs) {
            throw new IllegalArgumentException("range ends at " + to + ", must be after its start " + from);
        }
        long stepNs = Steps.atLeast((toNs - fromNs + width - 1) / width);
        try (Snapshot snapshot = new Snapshot(database)) {
            Connection connection = snapshot.connection();
            Optional<Integer> unitId = dictionary.knownUnitId(connection, unit);
            Optional<Integer> pointId = dictionary.knownPointId(connection, point);
            if (unitId.isEmpty() || pointId.isEmpty()) {
                return new Series(Duration.ofNanos(stepNs), List.of());
            }
            SeriesQuery query = new SeriesQuery(connection, dictionary, unitId.get(), pointId.get(), point, stepNs);
            return new Series(Duration.ofNanos(stepNs), query.read(fromNs, toNs));
        }
    }
}
