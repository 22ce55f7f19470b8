package io.loopwarden.inventory;

import io.loopwarden.fleet.PointName;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** A measured quantity that says something of the coolant in a loop. */
public enum LoopPoint {
    LEVEL("reservoir.level"),
    SUPPLY_TEMPERATURE("tcs.supply.temperature"),
    RETURN_TEMPERATURE("tcs.return.temperature"),
    FLOW("tcs.flow"),
    RETURN_FLOW("tcs.return.flow"),
    SUPPLY_PRESSURE("tcs.supply.pressure"),
    RETURN_PRESSURE("tcs.return.pressure"),
    FWS_PRESSURE("fws.supply.pressure"),
    MAKEUP_VOLUME("makeup.volume"),
    MAKEUP_RUNNING("makeup.running"),
    TRAY("tray.wet"),
    ROPE("rope.wet"),
    CONDUCTIVITY("coolant.conductivity"),
    SPEED_1("pump.1.speed"),
    SPEED_2("pump.2.speed"),
    SPEED_3("pump.3.speed"),
    SPEED_4("pump.4.speed"),
    SPEED_5("pump.5.speed"),
    SPEED_6("pump.6.speed"),
    SPEED_7("pump.7.speed"),
    SPEED_8("pump.8.speed");

    public static final int COUNT = values().length;
    static final int MOST_PUMPS = 8;

    private static final Map<PointName, LoopPoint> BY_NAME = new TreeMap<>();

    static {
        for (LoopPoint point : values()) {
            BY_NAME.put(point.point, point);
        }
    }

    private final PointName point;

    LoopPoint(String name) {
        this.point = PointName.of(name);
    }

    /** Speed of a pump, by number from 1. */
    static LoopPoint speed(int number) {
        return values()[SPEED_1.ordinal() + number - 1];
    }

    public PointName point() {
        return point;
    }

    public static Optional<LoopPoint> of(PointName point) {
        return Optional.ofNullable(BY_NAME.get(point));
    }
}
