package io.loopwarden.opcua;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.pointmap.PointMap;
import java.net.URI;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Connections for the tests, with short times. */
final class Plants {

    /** So that a test need not wait; all of them may be overridden. */
    private static final Map<String, String> QUICK = Map.of(
            "publishing-interval", "PT0.05S",
            "sampling-interval", "PT0.02S",
            "report", "changes",
            "keep-alive", "PT0.5S",
            "request-timeout", "PT5S",
            "session-timeout", "PT10S",
            "reconnect-first", "PT0.1S",
            "reconnect-longest", "PT1S");

    private Plants() {}

    static Map<String, String> quick(String... namesAndValues) {
        Map<String, String> settings = new HashMap<>(QUICK);
        for (int i = 0; i < namesAndValues.length; i += 2) {
            settings.put(namesAndValues[i], namesAndValues[i + 1]);
        }
        return settings;
    }

    /** Tags by point; {@code {unit}} in a tag stands for the unit's name at source. */
    static PointMap map(Map<String, String> nodeByPoint) {
        return new PointMap(
                "test map",
                "opc-ua",
                nodeByPoint.entrySet().stream()
                        .map(entry -> {
                            PointName point = PointName.of(entry.getKey());
                            return new PointMap.Entry(
                                    point, entry.getValue(), Conversion.none(point.quantity()), null, -1e12, 1e12);
                        })
                        .toList());
    }

    static Connection connection(URI address, Map<String, String> settings, ServedUnit... units) {
        return new Connection("plant line", "opc-ua", address, settings, List.of(units));
    }

    static ServedUnit unit(String id, Map<String, String> nodeByPoint) {
        return new ServedUnit(new UnitId(id), id, map(nodeByPoint));
    }
}
