package io.loopwarden.store;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.samplelog.StoredCounts;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * Sorts one unit's samples into frames and keeps out what is there already. A sample newer than all before it of its point is
 * new for sure, which costs one comparison; the others are looked up.
 */
final class UnitIntake {

    private final UnitId unit;
    private final int unitId;
    private final Dictionary dictionary;
    private final ArrayDeque<HourBuffer> pool;
    /** Every point's mark at start: the newest time stored of the unit before. */
    private final long floorNs;

    private final List<Scan> pending = new ArrayList<>();
    private final List<HourBuffer> open = new ArrayList<>();
    private final List<HourBuffer> closed = new ArrayList<>();
    private final List<Sample> suspects = new ArrayList<>();

    private Layout layout;
    private long[] markNs = {};
    // What the nth sample of the last scans was: scans of a unit mostly repeat their order.
    private PointName[] slotPoint = {};
    private Conversion[] slotConversion = {};
    private int[] slotColumn = {};
    private HourBuffer current;

    private long stored;
    private long duplicate;
    private long conflict;
    private long late;
    private long refused;

    UnitIntake(UnitId unit, int unitId, long floorNs, Dictionary dictionary, ArrayDeque<HourBuffer> pool) {
        this.unit = unit;
        this.unitId = unitId;
        this.floorNs = floorNs;
        this.dictionary = dictionary;
        this.pool = pool;
    }

    UnitId unit() {
        return unit;
    }

    int unitId() {
        return unitId;
    }

    List<Scan> pending() {
        return pending;
    }

    /** Turns the pending scans into frames, ready to be sent. */
    List<HourBuffer> take(Connection connection) throws SQLException {
        stored = 0;
        duplicate = 0;
        conflict = 0;
        late = 0;
        refused = 0;
        for (Scan scan : pending) {
            List<Sample> samples = scan.samples();
            for (int i = 0; i < samples.size(); i++) {
                take(connection, i, samples.get(i));
            }
        }
        if (!suspects.isEmpty()) {
            lookUpSuspects(connection);
        }
        pending.clear();
        suspects.clear();
        closed.addAll(open);
        open.clear();
        current = null;
        closed.forEach(HourBuffer::sortByTime);
        return closed;
    }

    StoredCounts counts() {
        return new StoredCounts(stored, duplicate, conflict, late, refused);
    }

    /** Gives the buffers back once their frames are made. */
    void release() {
        pool.addAll(closed);
        closed.clear();
    }

    private void take(Connection connection, int slot, Sample sample) throws SQLException {
        long ns = Times.ns(sample.measuredAt());
        if (ns == Times.OUTSIDE) {
            refused++;
            return;
        }
        int column = column(connection, slot, sample);
        if (ns > markNs[column]) {
            markNs[column] = ns;
            add(column, ns, sample);
        } else {
            suspects.add(sample);
        }
    }

    private void add(int column, long ns, Sample sample) {
        HourBuffer buffer = bufferOf(ns);
        buffer.column(column).add(ns, sample.raw(), sample.quality());
        buffer.added();
        stored++;
    }

    private HourBuffer bufferOf(long ns) {
        if (current != null && ns - current.hourNs() >= 0 && ns - current.hourNs() < Times.HOUR_NS) {
            return current;
        }
        long hourNs = Times.hourOf(ns);
        for (HourBuffer buffer : open) {
            if (buffer.hourNs() == hourNs) {
                current = buffer;
                return buffer;
            }
        }
        HourBuffer reused = pool.poll();
        current = (reused == null ? new HourBuffer() : reused).reset(hourNs, layout);
        open.add(current);
        return current;
    }

    private int column(Connection connection, int slot, Sample sample) throws SQLException {
        PointName point = sample.point();
        Conversion conversion = sample.conversion();
        if (slot < slotPoint.length && slotPoint[slot] == point && slotConversion[slot] == conversion) {
            return slotColumn[slot];
        }
        int column = column(connection, sample);
        if (slot >= slotPoint.length) {
            slotPoint = Arrays.copyOf(slotPoint, slot + 16);
            slotConversion = Arrays.copyOf(slotConversion, slot + 16);
            slotColumn = Arrays.copyOf(slotColumn, slot + 16);
        }
        slotPoint[slot] = point;
        slotConversion[slot] = conversion;
        slotColumn[slot] = column;
        return column;
    }

    private int column(Connection connection, Sample sample) throws SQLException {
        int column = layout == null ? -1 : layout.columnOf(sample.point());
        if (column < 0 || !layout.conversion(column).equals(sample.conversion())) {
            changeLayout(connection, sample);
            column = layout.columnOf(sample.point());
        }
        return column;
    }

    /** A point that is new, or converted in another way than before. The other new points that wait come along. */
    private void changeLayout(Connection connection, Sample cause) throws SQLException {
        SortedMap<PointName, Conversion> content = new TreeMap<>();
        for (int c = 0; layout != null && c < layout.size(); c++) {
            content.put(layout.point(c), layout.conversion(c));
        }
        content.put(cause.point(), cause.conversion());
        for (Scan scan : pending) {
            for (Sample sample : scan.samples()) {
                content.putIfAbsent(sample.point(), sample.conversion());
            }
        }
        Layout before = layout;
        long[] marksBefore = markNs;
        layout = dictionary.layoutOf(connection, content);
        markNs = new long[layout.size()];
        Arrays.fill(markNs, floorNs);
        for (int c = 0; before != null && c < before.size(); c++) {
            markNs[layout.columnOf(before.point(c))] = marksBefore[c];
        }
        Arrays.fill(slotPoint, null);
        closed.addAll(open);
        open.clear();
        current = null;
    }

    private void lookUpSuspects(Connection connection) throws SQLException {
        Set<PointName> points = suspects.stream().map(Sample::point).collect(Collectors.toSet());
        KnownSamples known = new KnownSamples(points);
        // By hour, so that one very old sample does not fetch everything since.
        TreeMap<Long, long[]> spans = new TreeMap<>();
        for (Sample suspect : suspects) {
            long ns = Times.ns(suspect.measuredAt());
            long[] span = spans.computeIfAbsent(Times.hourOf(ns), hour -> new long[] {ns, ns});
            span[0] = Math.min(span[0], ns);
            span[1] = Math.max(span[1], ns);
        }
        for (long[] span : spans.values()) {
            known.addStored(connection, dictionary, unitId, span[0], span[1]);
        }
        closed.forEach(known::add);
        open.forEach(known::add);
        for (Sample suspect : suspects) {
            judge(connection, known, suspect);
        }
    }

    private void judge(Connection connection, KnownSamples known, Sample suspect) throws SQLException {
        long ns = Times.ns(suspect.measuredAt());
        byte kind = Column.kindOf(suspect.raw());
        long bits = Column.bitsOf(suspect.raw());
        switch (known.put(suspect.point(), ns, kind, bits, Column.packed(suspect.quality()))) {
            case NEW -> {
                late++;
                add(column(connection, suspect), ns, suspect);
            }
            case DUPLICATE -> duplicate++;
            case CONFLICT -> conflict++;
        }
    }
}
