package io.loopwarden.pointmap;

import io.loopwarden.fleet.Quantity;

/** What a point of a liquid loop can have at all, in the inner unit: wide, only to catch a wrong unit or factor. */
record PhysicalRange(double lowSi, double highSi) {

    static PhysicalRange of(Quantity quantity) {
        return switch (quantity) {
            case TEMPERATURE -> new PhysicalRange(-50, 150);
            case TEMPERATURE_DIFFERENCE -> new PhysicalRange(-100, 100);
            case GAUGE_PRESSURE -> new PhysicalRange(-101_325, 4e6);
            case DIFFERENTIAL_PRESSURE -> new PhysicalRange(-4e6, 4e6);
            case VOLUME_FLOW -> new PhysicalRange(-1, 1);
            case RATIO -> new PhysicalRange(-0.1, 1.5);
            case POWER -> new PhysicalRange(-1e6, 1e8);
            case VOLUME -> new PhysicalRange(0, 1e6);
            case DURATION -> new PhysicalRange(0, 1e10);
            case CONDUCTIVITY -> new PhysicalRange(0, 20);
            case PH -> new PhysicalRange(0, 14);
            case FLAG -> new PhysicalRange(0, 1);
            case COUNT -> new PhysicalRange(0, 0x1p64);
        };
    }

    boolean overlaps(double fromSi, double toSi) {
        return fromSi <= highSi && toSi >= lowSi;
    }
}
