package io.loopwarden.service;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Intake;
import java.util.List;

/** One connection in service: what reads it and what its readings go through. */
public record Line(Connection connection, Collector collector, Intake intake) {

    /** Whether it reads what that connection describes: same place, settings and units, by the maps of the same names. */
    boolean serves(Connection other) {
        return connection.protocol().equals(other.protocol())
                && connection.endpoint().equals(other.endpoint())
                && connection.settings().equals(other.settings())
                && served(connection).equals(served(other));
    }

    private static List<List<String>> served(Connection connection) {
        return connection.units().stream()
                .map(unit -> List.of(
                        unit.unit().value(), unit.nameAtSource(), unit.map().name()))
                .toList();
    }
}
