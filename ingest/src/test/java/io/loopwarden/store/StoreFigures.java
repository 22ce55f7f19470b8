package io.loopwarden.store;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.samplelog.LogLimits;
import io.loopwarden.samplelog.QueuedSampleLog;
import io.loopwarden.samplelog.StoredCounts;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Stream;
import javax.sql.DataSource;
import org.postgresql.PGConnection;
import org.postgresql.ds.PGSimpleDataSource;

/**
 * Prints what the store does, on an embedded PostgreSQL in a new folder: samples a second against keyed rows by COPY, bytes a
 * sample, reading times. Values are random with three decimals, 40 points at 1 Hz.
 */
final class StoreFigures {

    private static final Instant START = Instant.parse("2026-11-16T00:00:00Z");
    private static final int POINTS = 40;
    private static final int RUNS = 5;
    private static final List<PointName> NAMES = names();

    /** As the default, but the producer waits as long as it takes: it is what is measured. */
    private static final LogLimits PATIENT = new LogLimits(
            LogLimits.DEFAULT.queuedSamples(),
            Duration.ofMinutes(5),
            LogLimits.DEFAULT.flushSamples(),
            LogLimits.DEFAULT.flushEvery(),
            LogLimits.DEFAULT.retryFirst(),
            LogLimits.DEFAULT.retryMost(),
            LogLimits.DEFAULT.listenerScans(),
            Duration.ofMinutes(1));

    private final EmbeddedStore server;
    private final ManualClock clock = new ManualClock(START.plus(Duration.ofDays(2)));
    private final Random random = new Random(1);
    private final Conversion[] conversions =
            NAMES.stream().map(name -> Conversion.none(name.quantity())).toArray(Conversion[]::new);

    private StoreFigures(EmbeddedStore server) {
        this.server = server;
    }

    public static void main(String[] args) throws Exception {
        Path folder = Files.createTempDirectory("store-figures");
        try (EmbeddedStore server = EmbeddedStore.start(folder)) {
            StoreFigures figures = new StoreFigures(server);
            List<String> wanted = args.length == 0 ? List.of("write", "day", "year") : List.of(args);
            if (wanted.contains("write")) {
                figures.write();
            }
            if (wanted.contains("day")) {
                figures.day();
            }
            if (wanted.contains("year")) {
                figures.year();
            }
        } finally {
            delete(folder);
        }
    }

    private static void delete(Path folder) throws IOException {
        try (Stream<Path> files = Files.walk(folder)) {
            files.sorted(Comparator.reverseOrder())
                    .forEach(file -> file.toFile().delete());
        }
    }

    private static List<PointName> names() {
        List<PointName> names = new ArrayList<>();
        for (int n = 1; n <= POINTS / 4; n++) {
            for (String kind : List.of("speed", "power", "dp", "run-time")) {
                names.add(PointName.of("pump." + n + "." + kind));
            }
        }
        return names;
    }

    private Scan scan(UnitId unit, Instant at) {
        List<Sample> samples = new ArrayList<>(POINTS);
        for (int p = 0; p < POINTS; p++) {
            RawValue raw = RawValue.of(random.nextInt(100_000) / 1000.0);
            samples.add(new Sample(NAMES.get(p), at, raw, conversions[p], Quality.GOOD));
        }
        return new Scan(unit, at, samples);
    }

    private List<Scan> scans(int units, Instant from, int seconds) {
        List<UnitId> ids = new ArrayList<>();
        for (int u = 0; u < units; u++) {
            ids.add(new UnitId(units + "-" + u));
        }
        List<Scan> scans = new ArrayList<>(units * seconds);
        for (int s = 0; s < seconds; s++) {
            for (UnitId id : ids) {
                scans.add(scan(id, from.plusSeconds(s)));
            }
        }
        return scans;
    }

    /** Samples a second from append to committed: through the log, and by COPY of keyed rows. */
    private void write() throws Exception {
        double[] ours = new double[RUNS];
        double[] oursLive = new double[RUNS];
        double[] copied = new double[RUNS];
        try (SampleStore store = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, clock)) {
            for (int run = 0; run < RUNS; run++) {
                List<Scan> scans = scans(100, START.plusSeconds(run * 300L), 300);
                ours[run] = append(store, scans);
                List<Scan> live = scans(1000, START.plusSeconds(7200 + run * 30L), 30);
                oursLive[run] = append(store, live);
                copied[run] = copyRows(scans.subList(0, scans.size() / 2));
            }
        }
        report("frames through the log, 100 units", "samples/s", ours);
        report("frames through the log, 1000 units", "samples/s", oursLive);
        report("keyed rows by COPY", "samples/s", copied);
        long samples = count("SELECT sum(sample_count) FROM frame");
        System.out.printf(
                "frames as written: %,d frames, %.2f bytes a sample, of them payload %.2f%n",
                count("SELECT count(*) FROM frame"),
                sizeOf("frame") / (double) samples,
                count("SELECT sum(length(payload)) FROM frame") / (double) samples);
        System.out.printf(
                "keyed rows: %.1f bytes a sample%n", sizeOf("keyed") / (double) count("SELECT count(*) FROM keyed"));
    }

    private static double append(SampleStore store, List<Scan> scans) {
        try (QueuedSampleLog log = new QueuedSampleLog(store, PATIENT)) {
            long startNs = System.nanoTime();
            List<CompletableFuture<Void>> stored = new ArrayList<>(scans.size());
            for (Scan scan : scans) {
                stored.add(log.append(scan));
            }
            stored.forEach(CompletableFuture::join);
            double seconds = (System.nanoTime() - startNs) / 1e9;
            StoredCounts counts = log.status().counts();
            if (counts.stored() != (long) scans.size() * POINTS) {
                throw new IllegalStateException("stored " + counts);
            }
            return counts.stored() / seconds;
        }
    }

    private double copyRows(List<Scan> scans) throws SQLException, IOException {
        try (Connection connection = server.dataSource().getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute("CREATE TABLE IF NOT EXISTS keyed (point_id int, at timestamptz, value double precision,"
                    + " quality int, unit_id int, PRIMARY KEY (unit_id, point_id, at))");
            StringBuilder text = new StringBuilder();
            long startNs = System.nanoTime();
            var copy = connection
                    .unwrap(PGConnection.class)
                    .getCopyAPI()
                    .copyIn("COPY keyed (unit_id, point_id, at, value, quality) FROM STDIN");
            for (Scan scan : scans) {
                for (int p = 0; p < POINTS; p++) {
                    text.append(scan.unit()
                                    .value()
                                    .substring(scan.unit().value().indexOf('-') + 1))
                            .append('\t')
                            .append(p)
                            .append('\t')
                            .append(scan.receivedAt())
                            .append('\t')
                            .append(scan.samples().get(p).valueSi())
                            .append("\t0\n");
                }
                if (text.length() > 1 << 16) {
                    byte[] bytes = text.toString().getBytes(java.nio.charset.StandardCharsets.US_ASCII);
                    copy.writeToCopy(bytes, 0, bytes.length);
                    text.setLength(0);
                }
            }
            byte[] bytes = text.toString().getBytes(java.nio.charset.StandardCharsets.US_ASCII);
            copy.writeToCopy(bytes, 0, bytes.length);
            copy.endCopy();
            return scans.size() * (double) POINTS / ((System.nanoTime() - startNs) / 1e9);
        }
    }

    /** One unit's day at 1 Hz, a frame a second as it comes live; then read, closed, read again. */
    private void day() throws Exception {
        UnitId unit = new UnitId("DAY");
        PointName point = NAMES.get(7);
        Instant to = START.plus(Duration.ofDays(1));
        try (SampleStore store = SampleStore.open(hasty(), immediate(), clock)) {
            for (int s = 0; s < 86_400; s++) {
                store.store(List.of(scan(unit, START.plusSeconds(s))));
            }
        }
        try (SampleStore store = SampleStore.open(server.dataSource(), immediate(), clock)) {
            System.out.printf(
                    "a day of one unit, %,d frames%n",
                    count("SELECT count(*) FROM frame f JOIN unit_name u"
                            + " ON u.unit_id = f.unit_id WHERE u.name = 'DAY'"));
            timed("  one point, its 86,400 samples, open frames", () -> readDay(store, unit, point, to));
            timed("  one point at width 1200, open frames", () -> store.reader().series(unit, point, START, to, 1200));
            timed("  latest of 40 points, open frames", () -> store.reader().latest(unit));
            long startNs = System.nanoTime();
            int closed = store.closeDueHours();
            System.out.printf(
                    "  closing %d unit-hours: %.1f ms each%n", closed, (System.nanoTime() - startNs) / 1e6 / closed);
            long samples = count("SELECT sum(sample_count) FROM frame");
            try (Connection connection = server.dataSource().getConnection();
                    Statement statement = connection.createStatement()) {
                statement.execute("VACUUM FULL frame");
                statement.execute("VACUUM FULL rollup_minute");
                statement.execute("VACUUM FULL rollup_hour");
            }
            System.out.printf(
                    "  closed frames: %.2f bytes a sample; roll-ups %.2f and %.2f more%n",
                    sizeOf("frame") / (double) samples,
                    sizeOf("rollup_minute") / (double) samples,
                    sizeOf("rollup_hour") / (double) samples);
            timed("  one point, its 86,400 samples, closed", () -> readDay(store, unit, point, to));
            timed("  one point at width 1200, closed", () -> store.reader().series(unit, point, START, to, 1200));
            timed("  one point at width 10000, closed", () -> store.reader().series(unit, point, START, to, 10_000));
            timed("  all 40 points, 3.5 M samples in order", () -> {
                long[] n = {0};
                store.reader().samples(unit, START, to, sample -> n[0]++);
                return n[0];
            });
        }
    }

    /** For filling only: does not wait for the disk after each of 86,400 frames. */
    private DataSource hasty() throws SQLException {
        PGSimpleDataSource source = server.dataSource().unwrap(PGSimpleDataSource.class);
        source.setOptions("-c synchronous_commit=off");
        return source;
    }

    private static long readDay(SampleStore store, UnitId unit, PointName point, Instant to) throws SQLException {
        long[] n = {0};
        store.reader().samples(unit, point, START, to, sample -> n[0]++);
        if (n[0] != 86_400) {
            throw new IllegalStateException("read " + n[0]);
        }
        return n[0];
    }

    /** A year of one unit at 2 min, then one point at width 1200 over shorter and longer ranges. */
    private void year() throws Exception {
        clock.set(START.plus(Duration.ofDays(2)));
        Instant from = START.minus(Duration.ofDays(365));
        try (SampleStore store = SampleStore.open(server.dataSource(), immediate(), clock)) {
            UnitId unit = new UnitId("YEAR");
            for (int hour = 0; hour < 365 * 24; hour++) {
                List<Scan> scans = new ArrayList<>();
                for (int minute = 0; minute < 60; minute += 2) {
                    scans.add(scan(unit, from.plusSeconds(hour * 3600L + minute * 60L)));
                }
                store.store(scans);
            }
            long startNs = System.nanoTime();
            int hours = 0;
            for (int closed = store.closeDueHours(); closed > 0; closed = store.closeDueHours()) {
                hours += closed;
            }
            System.out.printf(
                    "closing %d unit-hours: %.1f ms each%n", hours, (System.nanoTime() - startNs) / 1e6 / hours);
            PointName point = NAMES.get(7);
            timed("  one point over a year at width 1200", () -> store.reader().series(unit, point, from, START, 1200));
            timed(
                    "  one point over 30 days at width 1200",
                    () -> store.reader().series(unit, point, from, from.plus(Duration.ofDays(30)), 1200));
            timed(
                    "  one point over a week at width 1200",
                    () -> store.reader().series(unit, point, from, from.plus(Duration.ofDays(7)), 1200));
        }
    }

    private static StoreSettings immediate() {
        return StoreContract.noSettling(StoreSettings.DEFAULT);
    }

    private interface Task {
        Object run() throws SQLException;
    }

    private static void timed(String what, Task task) throws SQLException {
        double[] ms = new double[20];
        for (int run = 0; run < ms.length; run++) {
            long startNs = System.nanoTime();
            task.run();
            ms[run] = (System.nanoTime() - startNs) / 1e6;
        }
        double first = ms[0];
        Arrays.sort(ms);
        System.out.printf("%s: first %.1f, median %.1f, slowest but one %.1f ms%n", what, first, ms[10], ms[18]);
    }

    private static void report(String what, String unit, double[] values) {
        Arrays.sort(values);
        System.out.printf(
                "%s: median %,.0f %s (%,.0f to %,.0f)%n",
                what, values[values.length / 2], unit, values[0], values[values.length - 1]);
    }

    private long sizeOf(String table) throws SQLException {
        return count("SELECT coalesce(sum(pg_total_relation_size(relid)), 0)::bigint FROM pg_partition_tree('" + table
                        + "') WHERE isleaf")
                + count("SELECT CASE relkind WHEN 'r' THEN pg_total_relation_size(oid) ELSE 0 END"
                        + " FROM pg_class WHERE relname = '" + table + "'");
    }

    private long count(String sql) throws SQLException {
        try (Connection connection = server.dataSource().getConnection();
                Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getLong(1);
        }
    }
}
