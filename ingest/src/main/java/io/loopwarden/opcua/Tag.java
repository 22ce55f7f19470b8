package io.loopwarden.opcua;

import io.loopwarden.collector.Connection;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import java.time.Instant;
import java.util.List;

/** One node of one unit, and what was last handed on of it. Its state is touched by {@link Delivery} only. */
final class Tag {

    private final UnitId unit;
    private final PointName point;
    private final String source;

    /** Source time of the last value handed on; null before the first. */
    Instant lastMeasuredAt;

    /** Time of a gap mark after which no value came; null while values come. */
    Instant gapSince;

    /** Source time of a value that the sink did not keep: a mark at that time goes before the next value. */
    volatile Instant lostAt;

    private Tag(UnitId unit, PointName point, String source) {
        this.unit = unit;
        this.point = point;
        this.source = source;
    }

    static List<Tag> of(Connection connection) {
        return connection.units().stream()
                .flatMap(served -> served.map().entries().stream()
                        .map(entry -> new Tag(served.unit(), entry.point(), entry.sourceFor(served.nameAtSource()))))
                .toList();
    }

    UnitId unit() {
        return unit;
    }

    PointName point() {
        return point;
    }

    /** The node id, as the point map spells it. */
    String source() {
        return source;
    }
}
