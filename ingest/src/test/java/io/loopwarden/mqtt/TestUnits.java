package io.loopwarden.mqtt;

import io.loopwarden.collector.Connection;
import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.pointmap.PointMap;
import java.net.URI;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** A fleet of test units {@code E-01 …}, called {@code CDU01 …} by their controllers. */
public final class TestUnits {

    public static final PointMap MAP = new PointMap(
            "test-map",
            "mqtt-json",
            List.of(
                    entry("tcs.supply.temperature", "T_SUP", "Cel"),
                    entry("fws.supply.temperature", "T_FWS", "[degF]"),
                    entry("pump.1.speed", "P1_SPD", "%")));

    private TestUnits() {}

    private static PointMap.Entry entry(String point, String tag, String ucum) {
        return new PointMap.Entry(PointName.of(point), tag, new Conversion(1, 0, ucum), null, -1e9, 1e9);
    }

    /** @param settings names and values in turn; {@code client-id} is set if it is not among them */
    public static Connection connection(String protocol, URI endpoint, List<String> namesAtSource, String... settings) {
        List<Connection.ServedUnit> units = new ArrayList<>();
        for (int i = 0; i < namesAtSource.size(); i++) {
            units.add(new Connection.ServedUnit(new UnitId(String.format("E-%02d", i + 1)), namesAtSource.get(i), MAP));
        }
        Map<String, String> all = new HashMap<>(Map.of("client-id", "loopwarden-test"));
        for (int i = 0; i < settings.length; i += 2) {
            all.put(settings[i], settings[i + 1]);
        }
        return new Connection("east-broker", protocol, endpoint, all, units);
    }
}
