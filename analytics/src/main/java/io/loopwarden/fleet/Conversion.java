package io.loopwarden.fleet;

import java.util.Objects;

/**
 * From a source's number to the unit used inside: {@code inside = raw · factor + offset}. Kept with the raw number, so that what the
 * source said stays readable for ever.
 *
 * @param ucum UCUM code of the source's unit, for example {@code [psi]}
 */
public record Conversion(double factor, double offset, String ucum) {

    public Conversion {
        Objects.requireNonNull(ucum, "ucum");
        if (!Double.isFinite(factor) || factor == 0 || !Double.isFinite(offset)) {
            throw new IllegalArgumentException(
                    "conversion from " + ucum + " has factor " + factor + ", offset " + offset);
        }
    }

    /** The source already speaks the inner unit of that quantity. */
    public static Conversion none(Quantity quantity) {
        return new Conversion(1, 0, quantity.ucum());
    }

    public double apply(double raw) {
        return raw * factor + offset;
    }
}
