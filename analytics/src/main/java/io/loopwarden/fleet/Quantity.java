package io.loopwarden.fleet;

/** Kind of quantity of a point; fixes the unit used everywhere inside the system. */
public enum Quantity {
    /** Absolute temperature on the Celsius scale. */
    TEMPERATURE("Cel"),
    /** Difference of two temperatures. */
    TEMPERATURE_DIFFERENCE("K"),
    /** Pressure above atmosphere. */
    GAUGE_PRESSURE("Pa"),
    /** Difference of two pressures. */
    DIFFERENTIAL_PRESSURE("Pa"),
    VOLUME_FLOW("m3/s"),
    /** Opening, level, relative speed: 0 to 1. */
    RATIO("1"),
    POWER("W"),
    VOLUME("m3"),
    DURATION("s"),
    CONDUCTIVITY("S/m"),
    PH("[pH]"),
    /** Off 0, on 1. */
    FLAG("1"),
    /** A counter, up to 64 bits. */
    COUNT("1");

    private final String ucum;

    Quantity(String ucum) {
        this.ucum = ucum;
    }

    /** UCUM code of the unit that values of this kind have inside the system. */
    public String ucum() {
        return ucum;
    }
}
