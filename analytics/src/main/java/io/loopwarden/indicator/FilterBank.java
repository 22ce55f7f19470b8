package io.loopwarden.indicator;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.fluid.FluidState;
import io.loopwarden.hydraulics.Resistance;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Computed.Unavailable;
import io.loopwarden.statistics.Estimate;

/**
 * The parallel filters of a unit: which is loaded most, and its differential pressure at rated flow.
 *
 * <p>How the flow divides among the filters hardly changes with the total, so each filter's differential pressure is carried to rated
 * flow without knowing its own flow: by the ratio of a clean resistance at both total flows.
 *
 * @param worst number of the filter, from 1
 * @param atRatedFlow its differential pressure at rated TCS flow, coolant of 40 °C, Pa
 */
record FilterBank(int worst, Estimate atRatedFlow) {

    private static final double REFERENCE_C = 40;

    /** A differential pressure below this many standard uncertainties cannot be told from none. */
    private static final double OBSERVABLE = 2;

    static Computed<FilterBank> of(Hydraulics hydraulics) {
        int filters = hydraulics.design().nameplate().filters();
        if (filters == 0) {
            return Computed.unavailable(Reason.NAMEPLATE_INCOMPLETE, "The nameplate has no filters.");
        }
        return hydraulics
                .flow()
                .flatMap(q -> Filling.of(hydraulics).flatMap(filling -> worstOf(hydraulics, q, filling)));
    }

    /**
     * Coolant in the filters now and in the reference state. Filters are taken to sit in the return, as most do, to keep the exchangers
     * clean; that some sit elsewhere makes their viscosity uncertain.
     */
    private record Filling(FluidState now, FluidState reference, double viscosityUncertaintyRatio) {

        static Computed<Filling> of(Hydraulics hydraulics) {
            Coolant coolant = hydraulics.design().tcsCoolant();
            Means means = hydraulics.means();
            Computed<Estimate> cool = means.of(Points.TCS_SUPPLY_TEMPERATURE);
            return means.of(Points.TCS_RETURN_TEMPERATURE)
                    .fold(Computed::of, gap -> cool)
                    .flatMap(warm -> coolant.stateAt(warm.value())
                            .flatMap(now -> coolant.stateAt(REFERENCE_C)
                                    .map(reference -> new Filling(
                                            now,
                                            reference,
                                            spread(coolant, now, cool.fold(Estimate::value, g -> warm.value()))))));
        }

        /** Viscosity anywhere between return and supply, evenly. */
        private static double spread(Coolant coolant, FluidState now, double supplyC) {
            return coolant.stateAt(supplyC)
                    .fold(
                            supply -> Math.abs(supply.viscosityPaS() / now.viscosityPaS() - 1) / Math.sqrt(12),
                            gap -> 0.0);
        }
    }

    private static Computed<FilterBank> worstOf(Hydraulics hydraulics, Estimate q, Filling filling) {
        int filters = hydraulics.design().nameplate().filters();
        int worst = 0;
        Estimate most = null;
        Computed<FilterBank> gap = null;
        for (int n = 1; n <= filters; n++) {
            PointName point = Points.numbered("tcs.filter.{n}.dp", n);
            Computed<Estimate> dp = hydraulics.means().of(point);
            if (dp instanceof Unavailable<Estimate> missing) {
                gap = gap == null ? Computed.unavailable(missing.reason(), missing.detail()) : gap;
                continue;
            }
            Estimate measured = dp.fold(d -> d, none -> null);
            if (most == null || measured.value() > most.value()) {
                most = measured;
                worst = n;
            }
        }
        if (most == null) {
            return gap;
        }
        if (most.value() <= 0 || most.value() < OBSERVABLE * most.standardUncertainty()) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE,
                    "No filter shows more than " + Words.kilopascals(most.value())
                            + ", which the sensors cannot tell from none: clean, bypassed or without elements.");
        }
        int number = worst;
        return carried(hydraulics.design(), most, q, filling).map(dp -> new FilterBank(number, dp));
    }

    private static Computed<Estimate> carried(Design design, Estimate dp, Estimate q, Filling filling) {
        double rated = design.nameplate().ratedTcsFlowM3PerS();
        return Propagation.figure(
                x -> {
                    double share = Math.max(0, Math.min(1, x[2]));
                    FluidState then = filling.reference();
                    Resistance clean = Resistance.through(1, share, rated, then.viscosityPaS(), then.densityKgPerM3());
                    FluidState now = filling.now();
                    return x[0] / clean.dpPa(x[1], x[3] * now.viscosityPaS(), now.densityKgPerM3());
                },
                dp,
                q,
                HydraulicPriors.VISCOUS_SHARE,
                new Estimate(1, filling.viscosityUncertaintyRatio()));
    }
}
