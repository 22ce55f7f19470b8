package io.loopwarden.store;

import io.loopwarden.fleet.PointName;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.Map;
import java.util.TreeMap;

/** All samples of one unit and hour, by point; made from its frames. */
final class UnitHour {

    private final Dictionary dictionary;
    private final FrameDecoder decoder = new FrameDecoder();
    private final TreeMap<PointName, PointSamples> points = new TreeMap<>();
    private int frames;

    UnitHour(Dictionary dictionary) {
        this.dictionary = dictionary;
    }

    void add(Connection connection, long startNs, int layoutId, byte[] payload) throws SQLException {
        Layout layout = dictionary.layout(connection, layoutId);
        Column[] columns = new Column[layout.size()];
        for (int c = 0; c < columns.length; c++) {
            columns[c] = points.computeIfAbsent(layout.point(c), point -> new PointSamples())
                    .column(layout.conversion(c));
        }
        decoder.open(payload, 0, payload.length, startNs);
        decoder.readAll(columns);
        frames++;
    }

    int frames() {
        return frames;
    }

    int size() {
        return points.values().stream().mapToInt(PointSamples::total).sum();
    }

    /** The samples of the layout's points that came with the layout's conversions. */
    HourBuffer buffer(long hourNs, Layout layout) {
        HourBuffer buffer = new HourBuffer().reset(hourNs, layout);
        for (int c = 0; c < layout.size(); c++) {
            PointSamples samples = points.get(layout.point(c));
            if (samples != null) {
                Column column = samples.column(layout.conversion(c));
                buffer.column(c).addAll(column);
                buffer.added(column.size);
            }
        }
        return buffer;
    }

    /** Points with their samples in order of time; call once, after the last frame. */
    Map<PointName, PointSamples> points() {
        points.values().forEach(PointSamples::inOrder);
        points.values().removeIf(samples -> samples.size() == 0);
        return points;
    }
}
