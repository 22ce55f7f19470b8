package io.loopwarden.store;

import io.loopwarden.fleet.UnitId;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import javax.sql.DataSource;

/** Reads back what figures were: one figure, of one unit or of all, summed up in steps of time. Any number of threads. */
public final class FigureReader {

    private final DataSource database;
    private final Dictionary dictionary;
    private final FigureSettings settings;
    private final Clock clock;

    FigureReader(DataSource database, Dictionary dictionary, FigureSettings settings, Clock clock) {
        this.database = database;
        this.dictionary = dictionary;
        this.settings = settings;
        this.clock = clock;
    }

    /** One figure of one unit; empty buckets for a unit or key that was never stored. See {@link #all}. */
    public FigureSeries series(UnitId unit, String key, Instant from, Instant to, int width) throws SQLException {
        return all(List.of(unit), key, from, to, width).get(unit);
    }

    /**
     * One figure of each of the units, from {@code from} (included) to {@code to} (not included), in at most {@code width} buckets and
     * one more. Steps are at least a minute, and at least an hour where the range begins before the minutes that are kept. First and
     * last bucket are whole.
     *
     * @param key an indicator's key, or {@code signal.} and a function's name with hyphens: 0 good to 4 failure
     */
    public Map<UnitId, FigureSeries> all(List<UnitId> units, String key, Instant from, Instant to, int width)
            throws SQLException {
        if (width < 1 || width > SampleReader.MOST_BUCKETS) {
            throw new IllegalArgumentException("width is " + width + ", must be 1 to " + SampleReader.MOST_BUCKETS);
        }
        long fromNs = Times.nsWithin(from);
        long toNs = Times.nsWithin(to);
        if (toNs <= fromNs) {
            throw new IllegalArgumentException("range ends at " + to + ", must be after its start " + from);
        }
        boolean old = from.isBefore(clock.instant().minus(settings.keepMinutes()));
        long least = old ? Times.HOUR_NS : Times.MINUTE_NS;
        long stepNs = Steps.atLeast(Math.max(least, (toNs - fromNs + width - 1) / width));
        Map<Integer, TreeMap<Long, FigureSum>> sums = new HashMap<>();
        Map<UnitId, Integer> ids = new HashMap<>();
        try (Snapshot snapshot = new Snapshot(database)) {
            Connection connection = snapshot.connection();
            for (UnitId unit : units) {
                Optional<Integer> id = dictionary.knownUnitId(connection, unit);
                id.ifPresent(known -> ids.put(unit, known));
            }
            Integer[] wanted = ids.values().toArray(Integer[]::new);
            Query query = new Query(
                    connection,
                    wanted,
                    key,
                    fromNs - Math.floorMod(fromNs, stepNs),
                    toNs + Math.floorMod(-toNs, stepNs),
                    stepNs,
                    sums);
            query.run();
        }
        Map<UnitId, FigureSeries> found = new TreeMap<>();
        for (UnitId unit : units) {
            TreeMap<Long, FigureSum> line = sums.getOrDefault(ids.get(unit), new TreeMap<>());
            List<FigureBucket> buckets = new ArrayList<>(line.size());
            line.forEach((startNs, sum) -> buckets.add(sum.at(startNs)));
            found.put(unit, new FigureSeries(Duration.ofNanos(stepNs), buckets));
        }
        return found;
    }

    private record Query(
            Connection connection,
            Integer[] units,
            String key,
            long fromNs,
            long toNs,
            long stepNs,
            Map<Integer, TreeMap<Long, FigureSum>> sums) {

        void run() throws SQLException {
            Set<Long> closed = new HashSet<>();
            if (stepNs >= Times.HOUR_NS) {
                addHours(closed);
            }
            addMinutes(closed);
        }

        private FigureSum at(int unit, long ns) {
            return sums.computeIfAbsent(unit, id -> new TreeMap<>())
                    .computeIfAbsent(ns - Math.floorMod(ns, stepNs), start -> new FigureSum());
        }

        private void addMinutes(Set<Long> closed) throws SQLException {
            try (PreparedStatement select = connection.prepareStatement(MINUTES)) {
                select.setString(1, key);
                select.setString(2, key);
                select.setArray(3, connection.createArrayOf("int4", units));
                select.setObject(4, Times.sql(fromNs));
                select.setObject(5, Times.sql(toNs));
                try (ResultSet row = select.executeQuery()) {
                    while (row.next()) {
                        long ns = Times.ns(row.getObject(2, OffsetDateTime.class));
                        if (!closed.contains(ns - Math.floorMod(ns, Times.DAY_NS))) {
                            float value = row.getFloat(3);
                            Float present = row.wasNull() ? null : value;
                            at(row.getInt(1), ns).minute(ns, present, row.getFloat(4), row.getInt(5));
                        }
                    }
                }
            }
        }

        private void addHours(Set<Long> closed) throws SQLException {
            try (PreparedStatement select = connection.prepareStatement(DAYS)) {
                select.setObject(1, Times.sql(fromNs - Math.floorMod(fromNs, Times.DAY_NS)));
                select.setObject(2, Times.sql(toNs));
                try (ResultSet row = select.executeQuery()) {
                    while (row.next()) {
                        closed.add(Times.ns(row.getObject(1, OffsetDateTime.class)));
                    }
                }
            }
            try (PreparedStatement select = connection.prepareStatement(HOURS)) {
                select.setString(1, key);
                select.setArray(2, connection.createArrayOf("int4", units));
                select.setObject(3, Times.sql(fromNs - Math.floorMod(fromNs, Times.DAY_NS)));
                select.setObject(4, Times.sql(toNs));
                try (ResultSet row = select.executeQuery()) {
                    while (row.next()) {
                        addDay(closed, row);
                    }
                }
            }
        }

        private void addDay(Set<Long> closed, ResultSet row) throws SQLException {
            long dayNs = Times.ns(row.getObject(2, OffsetDateTime.class));
            if (!closed.contains(dayNs)) {
                return;
            }
            Short[] values = (Short[]) row.getArray(3).getArray();
            Short[] gaps = (Short[]) row.getArray(4).getArray();
            Float[] min = (Float[]) row.getArray(5).getArray();
            Float[] max = (Float[]) row.getArray(6).getArray();
            Float[] mean = (Float[]) row.getArray(7).getArray();
            Float[] uncertainty = (Float[]) row.getArray(8).getArray();
            Short[] reason = (Short[]) row.getArray(9).getArray();
            for (int h = 0; h < values.length; h++) {
                long ns = dayNs + h * Times.HOUR_NS;
                if (values[h] == null || ns < fromNs || ns >= toNs) {
                    continue;
                }
                FigureSum sum = at(row.getInt(1), ns);
                sum.gap(ns, gaps[h], reason[h]);
                if (values[h] > 0) {
                    sum.hour(values[h], min[h], max[h], mean[h], uncertainty[h]);
                }
            }
        }
    }

    private static final String MINUTES = """
            SELECT f.unit_id, f.minute_at, f.value[l.place], f.uncertainty[l.place], f.reason[l.place]
            FROM figure_minute f
            JOIN (SELECT layout_id, array_position(keys, ?) AS place FROM figure_layout WHERE ? = ANY (keys)) l USING (layout_id)
            WHERE f.unit_id = ANY (?) AND f.minute_at >= ? AND f.minute_at < ?""";

    private static final String DAYS = "SELECT day_start FROM figure_day_closed WHERE day_start >= ? AND day_start < ?";

    private static final String HOURS = """
            SELECT unit_id, day_start, value_count, gap_count, min_value, max_value, mean_value, uncertainty, reason
            FROM figure_hour
            WHERE key = ? AND unit_id = ANY (?) AND day_start >= ? AND day_start < ?""";
}
