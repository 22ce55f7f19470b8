package io.loopwarden.store;

import io.loopwarden.fleet.PointName;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;

/** Samples of one unit that are there already, looked up only for samples that may repeat one. */
final class KnownSamples {

    enum Verdict {
        NEW,
        DUPLICATE,
        CONFLICT
    }

    private record Seen(byte kind, long bits, long quality) {}

    private final Map<PointName, Map<Long, Seen>> byPoint = new HashMap<>();

    KnownSamples(Set<PointName> points) {
        points.forEach(point -> byPoint.put(point, new HashMap<>()));
    }

    /** Adds what is stored within the hour between two times. */
    void addStored(Connection connection, Dictionary dictionary, int unitId, long fromNs, long toNs)
            throws SQLException {
        FrameDecoder decoder = new FrameDecoder();
        Column column = new Column();
        FrameQueries.overlapping(connection, unitId, fromNs, toNs, (startNs, layoutId, payload) -> {
            Layout layout = dictionary.layout(connection, layoutId);
            decoder.open(payload, 0, payload.length, startNs);
            for (PointName point : byPoint.keySet()) {
                column.clear();
                int c = layout.columnOf(point);
                if (c >= 0 && decoder.read(c, column)) {
                    add(point, column);
                }
            }
        });
    }

    void add(HourBuffer buffer) {
        for (PointName point : byPoint.keySet()) {
            int c = buffer.layout().columnOf(point);
            if (c >= 0) {
                add(point, buffer.column(c));
            }
        }
    }

    private void add(PointName point, Column column) {
        Map<Long, Seen> seen = byPoint.get(point);
        for (int i = 0; i < column.size; i++) {
            seen.putIfAbsent(column.timeNs[i], new Seen(column.kind[i], column.bits[i], column.quality[i]));
        }
    }

    /** Compares with what is known of that point and time, and remembers it if it is new. */
    Verdict put(PointName point, long timeNs, byte kind, long bits, long quality) {
        Seen given = new Seen(kind, bits, quality);
        Seen first = byPoint.get(point).putIfAbsent(timeNs, given);
        if (first == null) {
            return Verdict.NEW;
        }
        return first.equals(given) ? Verdict.DUPLICATE : Verdict.CONFLICT;
    }
}
