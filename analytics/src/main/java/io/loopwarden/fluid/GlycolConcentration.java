package io.loopwarden.fluid;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;

/** Conversion of the volume percent on a supplier's label to the mass fraction that properties depend on. */
public final class GlycolConcentration {

    /** Pure propylene glycol and water at 20 °C, the temperature at which volumes are poured. */
    private static final double GLYCOL_KG_PER_M3 = 1036;

    private static final double WATER_KG_PER_M3 = 998.2;

    private GlycolConcentration() {}

    /** Mass fraction of a mixture poured from the given volume fraction of propylene glycol; contraction plays no part. */
    public static Computed<Double> massFraction(double volumeFraction) {
        if (!(volumeFraction >= 0 && volumeFraction <= 1)) {
            return Computed.unavailable(
                    Reason.OUTSIDE_VALID_RANGE, "glycol volume fraction is " + volumeFraction + ", must be 0 to 1");
        }
        double glycol = volumeFraction * GLYCOL_KG_PER_M3;
        return Computed.of(glycol / (glycol + (1 - volumeFraction) * WATER_KG_PER_M3));
    }
}
