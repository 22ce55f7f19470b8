package io.loopwarden.bench;

import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.StoreSettings;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import org.postgresql.ds.PGSimpleDataSource;

/** Bytes a sample on disk, indexes, quality and source time included: as written live, after its hour was closed, compressed. */
final class StoredBytes implements BenchMain.Row {

    private static final double GOAL_PLAIN = 8;
    private static final double GOAL_COMPRESSED = 3;
    private static final UnitId UNIT = new UnitId("BYTES");

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int hours = wanted.of(1, 6, 24);
        Instant from = Instant.parse("2026-11-16T00:00:00Z");
        Clock clock = Clock.fixed(from.plus(Duration.ofHours(hours + 2L)), ZoneOffset.UTC);
        MadeScans made = new MadeScans();
        List<Line> lines = new ArrayList<>();
        try (BenchStore database = new BenchStore()) {
            List<Scan> some = new ArrayList<>();
            try (SampleStore store = database.openHasty(clock)) {
                for (int second = 0; second < 3600 * hours / wanted.of(6, 1, 1); second++) {
                    Scan scan = made.scan(UNIT, from.plusSeconds(second));
                    some.add(scan);
                    store.store(List.of(scan));
                }
                KeyedRows rows = new KeyedRows(database);
                rows.copy(some.subList(0, Math.min(some.size(), 7200)));
                double keyed = database.bytesOf("keyed") / (double) database.number("SELECT count(*) FROM keyed");
                long samples = database.number("SELECT sum(sample_count) FROM frame");
                lines.add(Line.costs(
                        "as written live, a frame a second",
                        Runs.of(database.bytesOf("frame") / (double) samples),
                        Runs.of(keyed),
                        "B/sample",
                        GOAL_PLAIN / 101));
                lines.add(Line.atMost(
                        "as written live, a frame a second",
                        Runs.of(database.bytesOf("frame") / (double) samples),
                        "B/sample",
                        GOAL_PLAIN));
                YearQuery.close(store);
                database.execute("VACUUM FULL frame");
                database.execute("VACUUM FULL rollup_minute");
                database.execute("VACUUM FULL rollup_hour");
                long rollups = database.bytesOf("rollup_minute") + database.bytesOf("rollup_hour");
                lines.add(Line.atMost(
                        "after its hour was closed",
                        Runs.of(database.bytesOf("frame") / (double) samples),
                        "B/sample",
                        GOAL_PLAIN));
                lines.add(Line.told("roll-ups besides", Runs.of(rollups / (double) samples), "B/sample"));
            }
        }
        if (wanted.timescale().isPresent()) {
            lines.add(compressed(wanted.timescale().get(), made, from, hours, clock));
        }
        return new Sheet(lines, List.of());
    }

    /** Into somebody's TimescaleDB, which must be empty and allow COPY or INSERT. */
    private static Line compressed(String url, MadeScans made, Instant from, int hours, Clock clock) throws Exception {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setUrl(url);
        source.setPreferQueryMode(org.postgresql.jdbc.PreferQueryMode.SIMPLE);
        try (SampleStore store = SampleStore.open(source, StoreSettings.DEFAULT.withoutCopy(), clock);
                Connection connection = source.getConnection()) {
            for (int second = 0; second < 3600 * hours; second += 60) {
                List<Scan> minute = new ArrayList<>();
                for (int i = 0; i < 60; i++) {
                    minute.add(made.scan(UNIT, from.plusSeconds(second + i)));
                }
                store.store(minute);
            }
            YearQuery.close(store);
            number(connection, "SELECT count(compress_chunk(c)) FROM show_chunks('frame') c");
            long samples = number(connection, "SELECT sum(sample_count) FROM frame");
            long bytes = number(connection, "SELECT hypertable_size('frame')");
            return Line.atMost(
                    "compressed on TimescaleDB", Runs.of(bytes / (double) samples), "B/sample", GOAL_COMPRESSED);
        }
    }

    private static long number(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getLong(1);
        }
    }
}
