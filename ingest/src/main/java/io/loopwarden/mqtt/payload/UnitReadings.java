package io.loopwarden.mqtt.payload;

import io.loopwarden.collector.RawReading;
import io.loopwarden.fleet.UnitId;
import java.util.List;
import java.util.Objects;

/** What one message says about one unit. */
public record UnitReadings(UnitId unit, List<RawReading> readings) {

    public UnitReadings {
        Objects.requireNonNull(unit, "unit");
        readings = List.copyOf(readings);
    }
}
