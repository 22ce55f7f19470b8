package io.loopwarden.fluid;

/**
 * Water of a closed loop at 0.3 MPa absolute.
 *
 * <p>Errors of the sources near room temperature, as limits: density ±0.003 % and specific heat ±0.2 % (R7-97),
 * viscosity ±1 % (R12-08), conductivity ±1.5 % (R15-11). Taking one pressure for all loops adds ±0.02 % of density and
 * ±0.04 % of specific heat between 0.2 and 0.6 MPa; both are inside the limits below.
 */
final class Water {

    static final double PRESSURE_PA = 0.3e6;
    static final double LEAST_C = 2;
    static final double MOST_C = 90;
    static final PropertyUncertainty UNCERTAINTY = PropertyUncertainty.ofLimits(0.0002, 0.0024, 0.01, 0.015);
    static final Coolant COOLANT = new TabulatedCoolant(
            LEAST_C,
            MOST_C,
            "water by IAPWS R7-97(2012) region 1, R12-08 and R15-11 at 0.3 MPa",
            t -> state(t, PRESSURE_PA),
            t -> IapwsRegion1.at(t + 273.15, PRESSURE_PA).enthalpyJPerKg(),
            t -> UNCERTAINTY);

    private Water() {}

    static FluidState state(double temperatureC, double pressurePa) {
        double temperatureK = temperatureC + 273.15;
        IapwsRegion1.State s = IapwsRegion1.at(temperatureK, pressurePa);
        return new FluidState(
                temperatureC,
                s.densityKgPerM3(),
                s.specificHeatJPerKgK(),
                IapwsTransport.viscosityPaS(temperatureK, s.densityKgPerM3()),
                IapwsTransport.conductivityWPerMK(temperatureK, s.densityKgPerM3()),
                s.expansionPerK());
    }
}
