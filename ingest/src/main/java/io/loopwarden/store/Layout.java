package io.loopwarden.store;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;

/** What the columns of a frame are: points in order of their names, each once, with the conversion of its raw numbers. */
final class Layout {

    private final int id;
    private final List<PointName> points;
    private final List<Conversion> conversions;
    private final int[] pointIds;
    private final Map<PointName, Integer> columns = new HashMap<>();

    Layout(int id, SortedMap<PointName, Conversion> content, int[] pointIds) {
        this.id = id;
        this.points = List.copyOf(content.keySet());
        this.conversions = List.copyOf(content.values());
        this.pointIds = pointIds.clone();
        for (int c = 0; c < points.size(); c++) {
            columns.put(points.get(c), c);
        }
    }

    int id() {
        return id;
    }

    int size() {
        return points.size();
    }

    PointName point(int column) {
        return points.get(column);
    }

    int pointId(int column) {
        return pointIds[column];
    }

    Conversion conversion(int column) {
        return conversions.get(column);
    }

    /** The point's column, or -1. */
    int columnOf(PointName point) {
        return columns.getOrDefault(point, -1);
    }
}
