package io.loopwarden.fluid;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.statistics.Computed;

/** A coolant: its properties over temperature, from one named source. */
public interface Coolant {

    /** Properties, or {@code OUTSIDE_VALID_RANGE} with the temperature and the limit. */
    Computed<FluidState> stateAt(double temperatureC);

    /** Specific enthalpy; only differences within one coolant mean anything. */
    Computed<Double> enthalpyJPerKg(double temperatureC);

    /** Errors of the properties at a temperature; outside the valid range those of the nearer limit. */
    PropertyUncertainty uncertaintyAt(double temperatureC);

    /** Standard uncertainty of density times specific heat as a ratio, the widest within the valid range. */
    double heatCapacityUncertaintyRatio();

    /** Where the properties come from. */
    String source();

    static Coolant of(CoolantSpec spec) {
        return switch (spec.kind()) {
            case WATER -> Water.COOLANT;
            case PROPYLENE_GLYCOL -> PropyleneGlycol.coolant(spec.glycolMassFraction());
        };
    }
}
