package io.loopwarden.fleet;

import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What a unit may be run with, as its supplier says; every limit may be missing, none is invented.
 *
 * @param conductivitySPerM of the coolant
 * @param ph of the coolant
 * @param glycolMassFraction of the coolant, as a refractometer finds it
 * @param reservoirLevel 0 to 1
 * @param strainerTerminalDpPa differential pressure at rated FWS flow at which the facility strainer is due
 * @param npshRequiredM head above vapour pressure that a pump needs at its suction, at rated flow
 */
public record OperatingLimits(
        Optional<Range> conductivitySPerM,
        Optional<Range> ph,
        Optional<Range> glycolMassFraction,
        Optional<Range> reservoirLevel,
        OptionalDouble strainerTerminalDpPa,
        OptionalDouble npshRequiredM) {

    public static final OperatingLimits NONE = new OperatingLimits(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty());

    /** From least to most, both allowed. */
    public record Range(double least, double most) {
        public Range {
            if (!(least <= most) || Double.isInfinite(least) || Double.isInfinite(most)) {
                throw new IllegalArgumentException("a range from " + least + " to " + most);
            }
        }
    }

    public OperatingLimits {
        Objects.requireNonNull(conductivitySPerM, "conductivitySPerM");
        Objects.requireNonNull(ph, "ph");
        Objects.requireNonNull(glycolMassFraction, "glycolMassFraction");
        Objects.requireNonNull(reservoirLevel, "reservoirLevel");
        requirePositive("strainer terminal differential pressure (Pa)", strainerTerminalDpPa);
        requirePositive("NPSH required (m)", npshRequiredM);
    }

    private static void requirePositive(String name, OptionalDouble value) {
        if (value.isPresent() && !(value.getAsDouble() > 0 && value.getAsDouble() < 1e9)) {
            throw new IllegalArgumentException(name + " is " + value.getAsDouble() + ", must be finite and > 0");
        }
    }
}
