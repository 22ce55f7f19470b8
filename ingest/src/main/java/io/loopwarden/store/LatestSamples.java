package io.loopwarden.store;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.TreeMap;

/** Finds the newest sample of each point of a unit by going back from the newest frame. */
final class LatestSamples {

    /** Frames looked at: open hours have many, closed ones one each. */
    private static final int[] LOOK = {64, 256, 4000};

    private final Connection connection;
    private final Dictionary dictionary;
    private final int unitId;
    private final FrameDecoder decoder = new FrameDecoder();
    private final Column column = new Column();
    private final TreeMap<PointName, Sample> newest = new TreeMap<>();
    private Layout expected;
    private long oldestStartNs = Times.nsWithin(Times.LATEST);

    LatestSamples(Connection connection, Dictionary dictionary, int unitId) {
        this.connection = connection;
        this.dictionary = dictionary;
        this.unitId = unitId;
    }

    List<Sample> read() throws SQLException {
        for (int most : LOOK) {
            long beforeNs = oldestStartNs;
            FrameQueries.newestFirst(connection, unitId, Times.nsWithin(Times.EARLIEST), beforeNs, most, this::look);
            if (expected == null || newest.size() >= expected.size() || oldestStartNs == beforeNs) {
                break;
            }
        }
        if (expected != null) {
            lookAtLongFrames();
        }
        return List.copyOf(newest.values());
    }

    /** Frames that begin before those seen but may end after them: joined hours, late samples. */
    private void lookAtLongFrames() throws SQLException {
        long leastNs = newest.values().stream()
                .mapToLong(sample -> Times.ns(sample.measuredAt()))
                .min()
                .orElse(oldestStartNs);
        long fromNs = Math.max(leastNs, Times.hourOf(oldestStartNs));
        FrameQueries.overlapping(connection, unitId, fromNs, oldestStartNs - 1, this::look);
    }

    private void look(long startNs, int layoutId, byte[] payload) throws SQLException {
        Layout layout = dictionary.layout(connection, layoutId);
        if (expected == null) {
            expected = layout;
        }
        oldestStartNs = Math.min(oldestStartNs, startNs);
        decoder.open(payload, 0, payload.length, startNs);
        for (int c = 0; c < layout.size(); c++) {
            column.clear();
            if (decoder.read(c, column)) {
                keep(layout, c);
            }
        }
    }

    private void keep(Layout layout, int c) {
        int last = column.size - 1;
        PointName point = layout.point(c);
        Sample known = newest.get(point);
        if (known == null || Times.ns(known.measuredAt()) < column.timeNs[last]) {
            newest.put(
                    point,
                    new Sample(
                            point,
                            Times.instant(column.timeNs[last]),
                            column.raw(last),
                            layout.conversion(c),
                            column.quality(last)));
        }
    }
}
