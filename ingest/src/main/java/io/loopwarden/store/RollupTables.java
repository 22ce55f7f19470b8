package io.loopwarden.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;

/** Writes the tables {@code rollup_minute} and {@code rollup_hour}. */
final class RollupTables {

    private static final int MINUTES = 60;
    private static final int HOURS = 24;

    private RollupTables() {}

    /** The slots of one row: values by position. */
    private static final class Slots {
        final Integer[] count;
        final Integer[] good;
        final Integer[] bad;
        final Double[] min;
        final Double[] max;
        final Double[] mean;
        final Double[] last;

        Slots(int length) {
            count = new Integer[length];
            good = new Integer[length];
            bad = new Integer[length];
            min = new Double[length];
            max = new Double[length];
            mean = new Double[length];
            last = new Double[length];
        }

        void set(int slot, BucketSum sum) {
            if (sum.isEmpty()) {
                return;
            }
            count[slot] = (int) sum.count;
            good[slot] = (int) sum.goodCount;
            bad[slot] = (int) sum.badCount;
            if (sum.count > 0) {
                min[slot] = sum.min;
                max[slot] = sum.max;
                mean[slot] = sum.mean();
                last[slot] = sum.last;
            }
        }

        void bind(Connection connection, PreparedStatement statement, int first) throws SQLException {
            statement.setArray(first, connection.createArrayOf("int4", count));
            statement.setArray(first + 1, connection.createArrayOf("int4", good));
            statement.setArray(first + 2, connection.createArrayOf("int4", bad));
            statement.setArray(first + 3, connection.createArrayOf("float8", min));
            statement.setArray(first + 4, connection.createArrayOf("float8", max));
            statement.setArray(first + 5, connection.createArrayOf("float8", mean));
            statement.setArray(first + 6, connection.createArrayOf("float8", last));
        }
    }

    static PreparedStatement minuteStatement(Connection connection) throws SQLException {
        return connection.prepareStatement(UPSERT_MINUTES);
    }

    static PreparedStatement hourStatement(Connection connection) throws SQLException {
        return connection.prepareStatement(UPSERT_HOUR);
    }

    /** Adds one point's hour to both batches. */
    static void add(
            Connection connection,
            PreparedStatement minutes,
            PreparedStatement hours,
            HourKey hour,
            int pointId,
            PointSamples samples)
            throws SQLException {
        BucketSum[] sums = new BucketSum[MINUTES];
        BucketSum whole = new BucketSum();
        for (int i = 0; i < samples.size(); i++) {
            int minute = (int) ((samples.timeNs(i) - hour.hourNs()) / Times.MINUTE_NS);
            if (sums[minute] == null) {
                sums[minute] = new BucketSum();
            }
            if (samples.isBad(i)) {
                sums[minute].bad();
                whole.bad();
            } else {
                double valueSi = samples.valueSi(i);
                boolean good = samples.isGood(i);
                sums[minute].sample(samples.timeNs(i), valueSi, good);
                whole.sample(samples.timeNs(i), valueSi, good);
            }
        }
        Slots slots = new Slots(MINUTES);
        for (int minute = 0; minute < MINUTES; minute++) {
            if (sums[minute] != null) {
                slots.set(minute, sums[minute]);
            }
        }
        minutes.setObject(1, Times.sql(hour.hourNs()));
        minutes.setInt(2, hour.unitId());
        minutes.setInt(3, pointId);
        slots.bind(connection, minutes, 4);
        minutes.addBatch();
        addHour(connection, hours, hour, pointId, whole);
    }

    private static void addHour(
            Connection connection, PreparedStatement hours, HourKey hour, int pointId, BucketSum whole)
            throws SQLException {
        long dayNs = hour.hourNs() - Math.floorMod(hour.hourNs(), Times.DAY_NS);
        int slot = (int) ((hour.hourNs() - dayNs) / Times.HOUR_NS);
        Slots slots = new Slots(HOURS);
        slots.set(slot, whole);
        hours.setObject(1, Times.sql(dayNs));
        hours.setInt(2, hour.unitId());
        hours.setInt(3, pointId);
        slots.bind(connection, hours, 4);
        for (int parameter = 11; parameter <= 24; parameter++) {
            hours.setInt(parameter, slot + 1);
        }
        hours.addBatch();
    }

    private static final String UPSERT_MINUTES = """
            INSERT INTO rollup_minute (hour_start, unit_id, point_id,
                sample_count, good_count, bad_count, min_si, max_si, mean_si, last_si)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            ON CONFLICT (unit_id, point_id, hour_start) DO UPDATE SET
                sample_count = excluded.sample_count, good_count = excluded.good_count,
                bad_count = excluded.bad_count, min_si = excluded.min_si, max_si = excluded.max_si,
                mean_si = excluded.mean_si, last_si = excluded.last_si""";

    private static final String UPSERT_HOUR = """
            INSERT INTO rollup_hour (day_start, unit_id, point_id,
                sample_count, good_count, bad_count, min_si, max_si, mean_si, last_si)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            ON CONFLICT (unit_id, point_id, day_start) DO UPDATE SET
                sample_count[?] = excluded.sample_count[?], good_count[?] = excluded.good_count[?],
                bad_count[?] = excluded.bad_count[?], min_si[?] = excluded.min_si[?],
                max_si[?] = excluded.max_si[?], mean_si[?] = excluded.mean_si[?],
                last_si[?] = excluded.last_si[?]""";
}
