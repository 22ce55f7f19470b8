package io.loopwarden.indicator;

import io.loopwarden.fluid.FluidState;

/**
 * Thermal resistance of the liquid film on one side of a plate, up to a constant that both sides share. From
 * Nu ∝ Re^m Pr^(1/3), the film coefficient goes with Q^m · k^(2/3) · cp^(1/3) · rho^m · mu^(1/3 - m) at equal geometry.
 *
 * @param lnFixed part of the logarithm of the coefficient that does not depend on m
 * @param lnPerExponent part that m multiplies
 */
record FilmResistance(double lnFixed, double lnPerExponent) {

    static FilmResistance of(FluidState s) {
        double lnViscosity = Math.log(s.viscosityPaS());
        return new FilmResistance(
                (2 * Math.log(s.conductivityWPerMK()) + Math.log(s.specificHeatJPerKgK()) + lnViscosity) / 3,
                Math.log(s.densityKgPerM3()) - lnViscosity);
    }

    double relative(double flowM3PerS, double exponent) {
        return Math.exp(-lnFixed - exponent * (Math.log(flowM3PerS) + lnPerExponent));
    }
}
