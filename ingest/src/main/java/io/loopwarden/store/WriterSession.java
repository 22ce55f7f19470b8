package io.loopwarden.store;

import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.samplelog.StoredCounts;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One connection that writes, and what is known of the database while nobody else writes. After any failure the session is
 * thrown away with all it knew: whether the last transaction was committed is then read from the database.
 */
final class WriterSession {

    private static final Logger LOG = LoggerFactory.getLogger(WriterSession.class);

    private static final int MOST_MARKED_HOURS = 200_000;

    private final Connection connection;
    private final Dictionary dictionary;
    private final Partitions partitions;
    private final FrameRows rows;
    private final Map<UnitId, StoredCounts> totals;
    private final Map<UnitId, UnitIntake> units = new HashMap<>();
    private final ArrayDeque<HourBuffer> pool = new ArrayDeque<>();
    /** Hours that are marked due in the database for sure. */
    private final Set<HourKey> marked = new HashSet<>();

    WriterSession(
            Connection connection,
            Dictionary dictionary,
            Partitions partitions,
            FrameRows rows,
            Map<UnitId, StoredCounts> totals) {
        this.totals = totals;
        this.connection = connection;
        this.dictionary = dictionary;
        this.partitions = partitions;
        this.rows = rows;
    }

    Connection connection() {
        return connection;
    }

    void forget(HourKey hour) {
        marked.remove(hour);
    }

    StoredCounts store(List<Scan> scans) throws SQLException {
        long startNs = System.nanoTime();
        List<UnitIntake> touched = sort(scans);
        long sortedNs = System.nanoTime();
        StoredCounts counts = StoredCounts.NONE;
        Map<UnitId, StoredCounts> ofUnits = new HashMap<>();
        Set<HourKey> due = new HashSet<>();
        rows.clear();
        for (UnitIntake unit : touched) {
            for (HourBuffer buffer : unit.take(connection)) {
                partitions.ensure(connection, buffer.hourNs());
                rows.add(unit.unitId(), buffer);
                HourKey hour = new HourKey(unit.unitId(), buffer.hourNs());
                if (!marked.contains(hour)) {
                    due.add(hour);
                }
            }
            counts = counts.plus(unit.counts());
            ofUnits.put(unit.unit(), unit.counts());
            unit.release();
        }
        long encodedNs = System.nanoTime();
        if (!rows.isEmpty()) {
            commit(due);
        }
        ofUnits.forEach((unit, more) -> totals.merge(unit, more, StoredCounts::plus));
        LOG.debug(
                "{} scans: sorted {} ms, encoded {} ms, sent and committed {} ms",
                scans.size(),
                (sortedNs - startNs) / 1_000_000,
                (encodedNs - sortedNs) / 1_000_000,
                (System.nanoTime() - encodedNs) / 1_000_000);
        return counts;
    }

    private List<UnitIntake> sort(List<Scan> scans) throws SQLException {
        Set<UnitId> fresh = new HashSet<>();
        for (Scan scan : scans) {
            if (!units.containsKey(scan.unit())) {
                fresh.add(scan.unit());
            }
        }
        if (!fresh.isEmpty()) {
            open(fresh);
        }
        List<UnitIntake> touched = new ArrayList<>();
        for (Scan scan : scans) {
            UnitIntake unit = units.get(scan.unit());
            if (unit.pending().isEmpty()) {
                touched.add(unit);
            }
            unit.pending().add(scan);
        }
        return touched;
    }

    private void open(Set<UnitId> fresh) throws SQLException {
        Map<UnitId, Integer> ids = dictionary.unitIds(connection, fresh);
        for (UnitId unit : fresh) {
            int unitId = ids.get(unit);
            long newestNs = FrameQueries.newest(connection, unitId);
            units.put(unit, new UnitIntake(unit, unitId, newestNs, dictionary, pool));
        }
    }

    private void commit(Set<HourKey> due) throws SQLException {
        connection.setAutoCommit(false);
        rows.send(connection);
        if (!due.isEmpty()) {
            markDue(due);
        }
        connection.commit();
        connection.setAutoCommit(true);
        if (marked.size() > MOST_MARKED_HOURS) {
            marked.clear();
        }
        marked.addAll(due);
    }

    private void markDue(Set<HourKey> due) throws SQLException {
        try (PreparedStatement mark = connection.prepareStatement(MARK_DUE)) {
            for (HourKey hour : due) {
                mark.setInt(1, hour.unitId());
                mark.setObject(2, Times.sql(hour.hourNs()));
                mark.addBatch();
            }
            mark.executeBatch();
        }
    }

    private static final String MARK_DUE = """
            INSERT INTO hour_due (unit_id, hour_start, mark)
            VALUES (?, ?, nextval('due_mark'))
            ON CONFLICT (unit_id, hour_start) DO UPDATE SET mark = excluded.mark""";
}
