package io.loopwarden.indicator;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Estimate;

/**
 * FWS flow with the valve fully open at today's facility differential pressure; never less than flows already.
 *
 * @param predictedM3PerS 0 where the valve is fully open, so that today's flow is the answer
 */
record OpenFlow(double predictedM3PerS, double uncertaintyRatio) {

    /** Least differential pressure that the root is taken of, in standard uncertainties. */
    private static final double DP_KNOWN = 3;

    /** Above this multiple of the design differential pressure the number has a wrong unit or scale. */
    private static final double DP_IMPOSSIBLE_RATIO = 9;

    private static final OpenFlow TODAY = new OpenFlow(0, 0);

    static OpenFlow of(Design design, Means means) {
        IndicatorSettings s = design.settings();
        Nameplate n = design.nameplate();
        boolean open =
                means.of(Points.FWS_VALVE_POSITION).fold(valve -> valve.value() >= s.valveOpenRatio(), gap -> false);
        OpenFlow unscaled = new OpenFlow(n.ratedFwsFlowM3PerS(), s.openFlowUnknownRatio());
        if (open || n.designFwsDpPa().isEmpty()) {
            return open ? TODAY : unscaled;
        }
        double designDpPa = n.designFwsDpPa().getAsDouble();
        return means.of(Points.FWS_DP).fold(dp -> scaled(dp, designDpPa, unscaled, s), gap -> unscaled);
    }

    /** Turbulent flow through fixed resistances goes with the root of differential pressure. */
    private static OpenFlow scaled(Estimate dp, double designDpPa, OpenFlow unscaled, IndicatorSettings s) {
        boolean usable = dp.value() > DP_KNOWN * dp.standardUncertainty()
                && dp.value() > 0
                && dp.value() < DP_IMPOSSIBLE_RATIO * designDpPa;
        if (!usable) {
            return unscaled;
        }
        double rootUncertaintyRatio = dp.standardUncertainty() / dp.value() / 2;
        return new OpenFlow(
                unscaled.predictedM3PerS * Math.sqrt(dp.value() / designDpPa),
                Math.hypot(s.openFlowByDpRatio(), rootUncertaintyRatio));
    }

    double flowM3PerS(double factor, double todayM3PerS) {
        return Math.max(predictedM3PerS * factor, todayM3PerS);
    }
}
