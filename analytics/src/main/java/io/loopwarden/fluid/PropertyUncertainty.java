package io.loopwarden.fluid;

/**
 * Standard uncertainties of a coolant's properties, as ratios of the value. They are errors of the source: the same in
 * every window, so they shift a level and leave a trend alone.
 */
public record PropertyUncertainty(
        double densityRatio, double specificHeatRatio, double viscosityRatio, double conductivityRatio) {

    /** Of density times specific heat, as in a duty from a volume flow; the two are taken as independent. */
    public double heatCapacityRatio() {
        return Math.hypot(densityRatio, specificHeatRatio);
    }

    /** From limits ±a: rectangular distributions (JCGM 100:2008 4.3.7). */
    static PropertyUncertainty ofLimits(double density, double specificHeat, double viscosity, double conductivity) {
        double root3 = Math.sqrt(3);
        return new PropertyUncertainty(density / root3, specificHeat / root3, viscosity / root3, conductivity / root3);
    }

    PropertyUncertainty widenedBy(double factor) {
        return new PropertyUncertainty(
                factor * densityRatio, factor * specificHeatRatio, factor * viscosityRatio, factor * conductivityRatio);
    }
}
