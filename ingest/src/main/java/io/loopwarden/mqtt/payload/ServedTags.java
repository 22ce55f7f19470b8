package io.loopwarden.mqtt.payload;

import io.loopwarden.collector.Connection;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.pointmap.PointMap;
import java.util.HashMap;
import java.util.Map;

/** The units behind a connection by the name their source uses, each with its point map's entries by tag. */
record ServedTags(UnitId unit, Map<String, PointMap.Entry> entries) {

    static Map<String, ServedTags> byNameAtSource(Connection connection) {
        Map<String, ServedTags> served = new HashMap<>();
        for (Connection.ServedUnit unit : connection.units()) {
            String name = unit.nameAtSource();
            served.put(name, new ServedTags(unit.unit(), unit.map().bySource(name)));
        }
        return Map.copyOf(served);
    }
}
