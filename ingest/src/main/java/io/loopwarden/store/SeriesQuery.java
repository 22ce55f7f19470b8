package io.loopwarden.store;

import io.loopwarden.fleet.PointName;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.TreeSet;
import org.postgresql.PGStatement;

/** One point over a range: from roll-ups where they are ready and fine enough, else from frames. */
final class SeriesQuery {

    private final Connection connection;
    private final Dictionary dictionary;
    private final int unitId;
    private final int pointId;
    private final PointName point;
    private final long stepNs;

    SeriesQuery(Connection connection, Dictionary dictionary, int unitId, int pointId, PointName point, long stepNs) {
        this.connection = connection;
        this.dictionary = dictionary;
        this.unitId = unitId;
        this.pointId = pointId;
        this.point = point;
        this.stepNs = stepNs;
    }

    List<Bucket> read(long askedFromNs, long askedToNs) throws SQLException {
        long fromNs = askedFromNs - Math.floorMod(askedFromNs, stepNs);
        long toNs = askedToNs + Math.floorMod(-askedToNs, stepNs);
        BucketLine line = new BucketLine(stepNs, fromNs, toNs);
        if (stepNs < Times.MINUTE_NS) {
            addFrames(line, fromNs, toNs);
            return line.buckets();
        }
        TreeSet<Long> due = dueHours(fromNs, toNs);
        boolean byHour = stepNs >= Times.HOUR_NS;
        addRollups(line, due, fromNs, toNs, byHour);
        addDueHours(line, due);
        return line.buckets();
    }

    private void addFrames(BucketLine line, long fromNs, long toNs) throws SQLException {
        HourStream.Target target = new HourStream.OnePointSums(point, line);
        new HourStream(connection, dictionary, target).run(unitId, fromNs, toNs);
    }

    /** Hours without valid roll-ups are summed up from their frames; neighbours in one query. */
    private void addDueHours(BucketLine line, TreeSet<Long> due) throws SQLException {
        Long first = null;
        Long last = null;
        for (long hourNs : due) {
            if (last != null && hourNs != last + Times.HOUR_NS) {
                addFrames(line, first, last + Times.HOUR_NS - 1);
                first = null;
            }
            first = first == null ? hourNs : first;
            last = hourNs;
        }
        if (first != null) {
            addFrames(line, first, last + Times.HOUR_NS - 1);
        }
    }

    private TreeSet<Long> dueHours(long fromNs, long toNs) throws SQLException {
        TreeSet<Long> due = new TreeSet<>();
        try (PreparedStatement select = connection.prepareStatement(DUE_HOURS)) {
            select.setInt(1, unitId);
            select.setObject(2, Times.sql(Times.hourOf(fromNs)));
            select.setObject(3, Times.sql(toNs));
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    due.add(Times.ns(row.getObject(1, OffsetDateTime.class)));
                }
            }
        }
        return due;
    }

    private void addRollups(BucketLine line, TreeSet<Long> due, long fromNs, long toNs, boolean byHour)
            throws SQLException {
        long rowNs = byHour ? Times.DAY_NS : Times.HOUR_NS;
        long slotNs = byHour ? Times.HOUR_NS : Times.MINUTE_NS;
        try (PreparedStatement select = connection.prepareStatement(byHour ? HOURS : MINUTES)) {
            select.setInt(1, unitId);
            select.setInt(2, pointId);
            select.setObject(3, Times.sql(fromNs - Math.floorMod(fromNs, rowNs)));
            select.setObject(4, Times.sql(toNs));
            PGStatement statement = select.unwrap(PGStatement.class);
            statement.setPrepareThreshold(statement.getPrepareThreshold() == 0 ? 0 : -1);
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    addRow(line, due, row, slotNs);
                }
            }
        }
    }

    private static void addRow(BucketLine line, TreeSet<Long> due, ResultSet row, long slotNs) throws SQLException {
        long startNs = Times.ns(row.getObject(1, OffsetDateTime.class));
        Integer[] count = (Integer[]) row.getArray(2).getArray();
        Integer[] good = (Integer[]) row.getArray(3).getArray();
        Integer[] bad = (Integer[]) row.getArray(4).getArray();
        Double[] min = (Double[]) row.getArray(5).getArray();
        Double[] max = (Double[]) row.getArray(6).getArray();
        Double[] mean = (Double[]) row.getArray(7).getArray();
        Double[] last = (Double[]) row.getArray(8).getArray();
        for (int slot = 0; slot < count.length; slot++) {
            long slotStartNs = startNs + slot * slotNs;
            if (count[slot] == null || due.contains(Times.hourOf(slotStartNs))) {
                continue;
            }
            BucketSum sum = line.at(slotStartNs);
            if (sum != null && count[slot] == 0) {
                sum.bucket(slotStartNs, 0, 0, bad[slot], 0, 0, 0, 0);
            } else if (sum != null) {
                sum.bucket(
                        slotStartNs, count[slot], good[slot], bad[slot], min[slot], max[slot], mean[slot], last[slot]);
            }
        }
    }

    private static final String DUE_HOURS =
            "SELECT hour_start FROM hour_due WHERE unit_id = ? AND hour_start >= ? AND hour_start < ?";

    private static final String MINUTES = """
            SELECT hour_start, sample_count, good_count, bad_count, min_si, max_si, mean_si, last_si
            FROM rollup_minute
            WHERE unit_id = ? AND point_id = ? AND hour_start >= ? AND hour_start < ?
            ORDER BY hour_start""";

    private static final String HOURS = """
            SELECT day_start, sample_count, good_count, bad_count, min_si, max_si, mean_si, last_si
            FROM rollup_hour
            WHERE unit_id = ? AND point_id = ? AND day_start >= ? AND day_start < ?
            ORDER BY day_start""";
}
