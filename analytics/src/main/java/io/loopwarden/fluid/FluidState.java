package io.loopwarden.fluid;

/**
 * Properties of a coolant at one temperature.
 *
 * @param expansionPerK thermal expansion (1/v)(dv/dT) at constant pressure; negative for water below 4 °C
 */
public record FluidState(
        double temperatureC,
        double densityKgPerM3,
        double specificHeatJPerKgK,
        double viscosityPaS,
        double conductivityWPerMK,
        double expansionPerK) {

    public FluidState {
        boolean physical = densityKgPerM3 > 0
                && specificHeatJPerKgK > 0
                && viscosityPaS > 0
                && conductivityWPerMK > 0
                && Double.isFinite(temperatureC + expansionPerK)
                && Double.isFinite(densityKgPerM3 + specificHeatJPerKgK + viscosityPaS + conductivityWPerMK);
        if (!physical) {
            throw new IllegalArgumentException("no fluid at " + temperatureC + " °C has density " + densityKgPerM3
                    + " kg/m3, specific heat " + specificHeatJPerKgK + " J/(kg K), viscosity " + viscosityPaS
                    + " Pa s, conductivity " + conductivityWPerMK + " W/(m K), expansion " + expansionPerK + " 1/K");
        }
    }

    /** Heat that one cubic metre takes up per kelvin, J/(m3 K). */
    public double heatCapacityJPerM3K() {
        return densityKgPerM3 * specificHeatJPerKgK;
    }

    public double prandtl() {
        return specificHeatJPerKgK * viscosityPaS / conductivityWPerMK;
    }
}
