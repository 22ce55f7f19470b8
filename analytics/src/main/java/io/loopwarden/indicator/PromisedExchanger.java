package io.loopwarden.indicator;

import io.loopwarden.exchanger.Conductance;
import io.loopwarden.exchanger.HeatBalance;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;

/**
 * The exchanger as the nameplate promises it: the resistance behind rated approach at rated duty and flows, and the films there.
 *
 * @param resistanceKPerW 1/UA at rated conditions
 */
record PromisedExchanger(double resistanceKPerW, FilmResistance tcsFilm, FilmResistance fwsFilm) {

    static Computed<PromisedExchanger> of(Nameplate n, Coolant tcs, Coolant fws) {
        double fwsSupplyC = n.designFwsSupplyTemperatureC();
        double tcsSupplyC = fwsSupplyC + n.ratedApproachK();
        return Rise.of(tcs, n.ratedTcsFlowM3PerS(), tcsSupplyC, n.ratedDutyW())
                .flatMap(hot -> Rise.of(fws, n.ratedFwsFlowM3PerS(), fwsSupplyC, n.ratedDutyW())
                        .flatMap(cold -> of(n, hot, cold)));
    }

    private static Computed<PromisedExchanger> of(Nameplate n, Rise hot, Rise cold) {
        Computed<Double> conductance = Conductance.byEffectivenessWPerK(
                n.ratedDutyW(), hot.rateWPerK(), cold.rateWPerK(), hot.outletC(), cold.supplyC());
        return conductance.fold(
                ua -> Computed.of(new PromisedExchanger(1 / ua, hot.film(), cold.film())),
                gap -> Computed.unavailable(
                        Reason.OUTSIDE_VALID_RANGE,
                        "The nameplate of " + n.model() + " promises what no exchanger can do: "
                                + Words.watts(n.ratedDutyW()) + " at " + Words.fixed(n.ratedApproachK(), 1)
                                + " K approach with " + Words.litresPerSecond(n.ratedFwsFlowM3PerS())
                                + " of facility water."));
    }

    /** A stream that takes up a duty, from its supply temperature on. */
    record Rise(double flowM3PerS, double supplyC, double outletC, double rateWPerK, FilmResistance film) {

        /** Enough: the specific heat moves by less than 1e-4 a kelvin. */
        private static final int ROUNDS = 3;

        static Computed<Rise> of(Coolant coolant, double flowM3PerS, double supplyC, double dutyW) {
            Computed<Double> rate = HeatBalance.capacityRateWPerK(coolant, flowM3PerS, supplyC, supplyC, supplyC);
            for (int i = 1; i < ROUNDS; i++) {
                rate = rate.flatMap(
                        r -> HeatBalance.capacityRateWPerK(coolant, flowM3PerS, supplyC, supplyC + dutyW / r, supplyC));
            }
            return rate.flatMap(r -> coolant.stateAt(supplyC + dutyW / r / 2)
                    .map(s -> new Rise(flowM3PerS, supplyC, supplyC + dutyW / r, r, FilmResistance.of(s))));
        }
    }
}
