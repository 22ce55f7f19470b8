package io.loopwarden.virtual.scenario;

import java.util.Map;

/** The units that our two invented suppliers speak, by UCUM code: {@code inner = value · factor + offset}. */
final class UnitsOfMeasure {

    record Linear(double factor, double offset) {}

    private static final double GALLON_M3 = 3.785411784e-3;

    private static final Map<String, Linear> KNOWN = Map.ofEntries(
            Map.entry("1", new Linear(1, 0)),
            Map.entry("%", new Linear(0.01, 0)),
            Map.entry("Cel", new Linear(1, 0)),
            Map.entry("K", new Linear(1, 0)),
            Map.entry("[degF]", new Linear(5 / 9.0, -160 / 9.0)),
            Map.entry("[degR]", new Linear(5 / 9.0, 0)),
            Map.entry("Pa", new Linear(1, 0)),
            Map.entry("kPa", new Linear(1e3, 0)),
            Map.entry("bar", new Linear(1e5, 0)),
            Map.entry("mbar", new Linear(100, 0)),
            Map.entry("[psi]", new Linear(6894.757293168361, 0)),
            Map.entry("m3/s", new Linear(1, 0)),
            Map.entry("m3/h", new Linear(1 / 3600.0, 0)),
            Map.entry("L/min", new Linear(1e-3 / 60, 0)),
            Map.entry("[gal_us]/min", new Linear(GALLON_M3 / 60, 0)),
            Map.entry("W", new Linear(1, 0)),
            Map.entry("kW", new Linear(1e3, 0)),
            Map.entry("m3", new Linear(1, 0)),
            Map.entry("L", new Linear(1e-3, 0)),
            Map.entry("[gal_us]", new Linear(GALLON_M3, 0)),
            Map.entry("s", new Linear(1, 0)),
            Map.entry("min", new Linear(60, 0)),
            Map.entry("h", new Linear(3600, 0)),
            Map.entry("S/m", new Linear(1, 0)),
            Map.entry("uS/cm", new Linear(1e-4, 0)),
            Map.entry("mS/cm", new Linear(0.1, 0)),
            Map.entry("[pH]", new Linear(1, 0)));

    private UnitsOfMeasure() {}

    static Linear of(String ucum) {
        Linear unit = KNOWN.get(ucum);
        if (unit == null) {
            throw new IllegalArgumentException("the virtual controllers do not speak unit '" + ucum + "'");
        }
        return unit;
    }
}
