package io.loopwarden.watch;

import io.loopwarden.fleet.Quantity;

/** Amounts of a quantity in the units people speak of. */
final class Quantities {

    private Quantities() {}

    static String words(Quantity quantity, double amount) {
        return switch (quantity) {
            case TEMPERATURE, TEMPERATURE_DIFFERENCE -> twoDecimals(amount) + " K";
            case VOLUME_FLOW -> twoDecimals(1000 * amount) + " L/s";
            case RATIO -> twoDecimals(100 * amount) + " %";
            default -> twoDecimals(amount) + " " + quantity.ucum();
        };
    }

    private static String twoDecimals(double amount) {
        return Double.toString(Math.rint(100 * amount) / 100);
    }
}
