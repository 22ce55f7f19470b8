package io.loopwarden.fleetfile;

import io.loopwarden.collector.Connection;
import io.loopwarden.fleet.Unit;
import io.loopwarden.yaml.Fault;
import java.time.ZoneId;
import java.util.List;
import java.util.Objects;

/**
 * What could be read of a fleet folder, and what was left out.
 *
 * @param zone the site's local time, for roll-ups by day and for what people see
 * @param units every unit with a good nameplate; one whose map or connection has a fault is here and not in {@code connections}
 * @param faults every fault of every file; what has one is left out, the rest is loaded
 */
public record FleetConfig(
        String siteName, ZoneId zone, List<Unit> units, List<Connection> connections, List<Fault> faults) {

    public FleetConfig {
        Objects.requireNonNull(siteName, "siteName");
        Objects.requireNonNull(zone, "zone");
        units = List.copyOf(units);
        connections = List.copyOf(connections);
        faults = List.copyOf(faults);
    }
}
