package io.loopwarden.collector;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.pointmap.PointMap;
import java.net.URI;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/**
 * One line to one controller or gateway, as the fleet file describes it.
 *
 * @param protocol {@code opc-ua}, {@code mqtt-json}, {@code mqtt-sparkplug} or {@code modbus-tcp}
 * @param settings the protocol's own settings, by name; each collector's configuration says which and their defaults
 * @param units the units behind this line
 */
public record Connection(
        String name, String protocol, URI endpoint, Map<String, String> settings, List<ServedUnit> units) {

    /** @param nameAtSource what the controller calls the unit: a folder, a device id, a Modbus unit number */
    public record ServedUnit(UnitId unit, String nameAtSource, PointMap map) {
        public ServedUnit {
            Objects.requireNonNull(unit, "unit");
            Objects.requireNonNull(nameAtSource, "nameAtSource");
            Objects.requireNonNull(map, "map");
        }
    }

    public Connection {
        Objects.requireNonNull(name, "name");
        Objects.requireNonNull(protocol, "protocol");
        Objects.requireNonNull(endpoint, "endpoint");
        settings = Map.copyOf(settings);
        units = List.copyOf(units);
    }
}
