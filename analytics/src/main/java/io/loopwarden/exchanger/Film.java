package io.loopwarden.exchanger;

import io.loopwarden.fluid.FluidState;

/**
 * Film conductance on one side of given plates, relative to a reference: Nu = C Re^m Pr^(1/3) in unchanged channels, so
 * that h goes with k^(2/3) cp^(1/3) mu^(1/3) (rho Q / mu)^m.
 *
 * <p>Correlations in print disagree by tens of percent on the level C for one and the same plate, and put m between 0.6
 * and 0.8 (Kumar; Martin; Muley and Manglik). So only the form is taken from them; the level is learnt from the unit.
 */
public record Film(double referenceFlowM3PerS, FluidState reference) {

    public Film {
        if (!(referenceFlowM3PerS > 0) || Double.isInfinite(referenceFlowM3PerS)) {
            throw new IllegalArgumentException(
                    "reference flow is " + referenceFlowM3PerS + " m3/s, must be finite and > 0");
        }
    }

    /** h over its reference, at a flow and a mean state. */
    public double ratio(double flowM3PerS, FluidState state, double exponent) {
        double conductivity = state.conductivityWPerMK() / reference.conductivityWPerMK();
        double specificHeat = state.specificHeatJPerKgK() / reference.specificHeatJPerKgK();
        double viscosity = state.viscosityPaS() / reference.viscosityPaS();
        return Math.cbrt(conductivity * conductivity * specificHeat * viscosity)
                * Math.exp(exponent * logReynoldsRatio(flowM3PerS, state));
    }

    /** ln(Re / Re at the reference), which is also d ln(ratio) / d exponent. */
    public double logReynoldsRatio(double flowM3PerS, FluidState state) {
        double density = state.densityKgPerM3() / reference.densityKgPerM3();
        double viscosity = state.viscosityPaS() / reference.viscosityPaS();
        return Math.log(flowM3PerS / referenceFlowM3PerS * density / viscosity);
    }
}
