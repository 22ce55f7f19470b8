package io.loopwarden.indicator;

import static io.loopwarden.indicator.SteadyExchanger.INPUTS;

import io.loopwarden.exchanger.Counterflow;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fluid.FluidState;
import io.loopwarden.indicator.PromisedExchanger.Rise;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;

/**
 * The unit as it is today, carried to rated duty and rated TCS flow with the facility valve fully open.
 *
 * <p>Thermal resistance is split into the films, which change with flow and fluid as plates do (h ∝ flow^m), and the rest (wall and
 * fouling), which does not. The clean share of the wall and the evenness of the two films are priors; whatever exceeds the
 * promised resistance at today's flows counts as fouling.
 */
final class RatedCondition {

    private final SteadyExchanger state;
    private final Nameplate nameplate;
    private final PromisedExchanger promised;
    private final Films filmsToday;
    private final Rise tcsRated;
    private final Rise fwsRated;
    private final OpenFlow openFlow;

    private RatedCondition(
            SteadyExchanger state,
            PromisedExchanger promised,
            Films filmsToday,
            Rise tcsRated,
            Rise fwsRated,
            OpenFlow openFlow) {
        this.state = state;
        this.nameplate = state.design().nameplate();
        this.promised = promised;
        this.filmsToday = filmsToday;
        this.tcsRated = tcsRated;
        this.fwsRated = fwsRated;
        this.openFlow = openFlow;
    }

    /** Approach at rated duty with the valve fully open, K. */
    static Computed<Estimate> approachK(SteadyExchanger state, Means means) {
        Design design = state.design();
        Nameplate n = design.nameplate();
        SteadyExchanger.Solved today = state.central();
        OpenFlow open = OpenFlow.of(design, means);
        double tcsSupplyC = today.fwsSupplyC() + n.ratedApproachK();
        Computed<Rise> tcsRise = Rise.of(design.tcsCoolant(), n.ratedTcsFlowM3PerS(), tcsSupplyC, n.ratedDutyW());
        Computed<Rise> fwsRise = Rise.of(
                design.fwsCoolant(), open.flowM3PerS(1, today.fwsFlowM3PerS()), today.fwsSupplyC(), n.ratedDutyW());
        return design.promised()
                .flatMap(promised -> Films.of(design, today)
                        .flatMap(films -> tcsRise.flatMap(tcs -> fwsRise.flatMap(
                                fws -> new RatedCondition(state, promised, films, tcs, fws, open).propagated()))));
    }

    private Computed<Estimate> propagated() {
        IndicatorSettings s = state.design().settings();
        double[] prior = {s.filmFlowExponent(), s.wallShareRatio(), 1, 1};
        double[] uncertainty = {
            s.filmFlowExponentUncertainty(),
            s.wallShareUncertainty(),
            s.filmAsymmetryRatio(),
            openFlow.uncertaintyRatio()
        };
        double[] above = new double[INPUTS + prior.length];
        double[] below = new double[INPUTS + prior.length];
        Prior central = Prior.of(prior);
        for (int i = 0; i < INPUTS; i++) {
            above[i] = approachK(state.above(i), central);
            below[i] = approachK(state.below(i), central);
        }
        for (int i = 0; i < prior.length; i++) {
            above[INPUTS + i] = approachK(state.central(), stepped(prior, i, uncertainty[i]));
            below[INPUTS + i] = approachK(state.central(), stepped(prior, i, -uncertainty[i]));
        }
        return Propagation.of(approachK(state.central(), central), above, below)
                .map(p -> Computed.of(p.estimate()))
                .orElseGet(() -> Computed.unavailable(
                        Reason.NOT_OBSERVABLE,
                        "Rated duty cannot be worked out from today's state: the temperatures nearly touch."));
    }

    private static Prior stepped(double[] prior, int index, double uncertainty) {
        double[] values = prior.clone();
        values[index] += Propagation.STEP * uncertainty;
        return Prior.of(values);
    }

    /**
     * What is taken to hold for any plate exchanger.
     *
     * @param exponent of film coefficient over flow
     * @param wallShareRatio share of the wall in the promised resistance
     * @param fwsFilmRatio FWS over TCS film at equal flow and fluid
     * @param openFlowFactor true over predicted FWS flow with the valve open
     */
    private record Prior(double exponent, double wallShareRatio, double fwsFilmRatio, double openFlowFactor) {

        static Prior of(double[] values) {
            return new Prior(values[0], values[1], values[2], values[3]);
        }
    }

    private double approachK(SteadyExchanger.Solved today, Prior prior) {
        double fwsFlow = openFlow.flowM3PerS(prior.openFlowFactor, today.fwsFlowM3PerS());
        double conductance = 1 / ratedResistanceKPerW(1 / today.conductanceWPerK(), today, fwsFlow, prior);
        double tcsRate = tcsRated.rateWPerK() * today.tcsHeatFactor();
        double fwsRate = fwsRated.rateWPerK() / fwsRated.flowM3PerS() * today.fwsHeatFactor() * fwsFlow;
        double smaller = Math.min(tcsRate, fwsRate);
        double ntu = conductance / smaller;
        if (!(ntu > 0 && ntu < Double.POSITIVE_INFINITY)) {
            return Double.NaN;
        }
        double effectiveness = Counterflow.effectivenessRatio(ntu, smaller / Math.max(tcsRate, fwsRate));
        return nameplate.ratedDutyW() * (1 / (effectiveness * smaller) - 1 / tcsRate);
    }

    /** 1/UA at rated flows from 1/UA today. */
    private double ratedResistanceKPerW(
            double resistanceKPerW, SteadyExchanger.Solved today, double openFwsFlowM3PerS, Prior prior) {
        double m = prior.exponent;
        double wallKPerW = prior.wallShareRatio * promised.resistanceKPerW();
        double promisedFilms = promised.tcsFilm().relative(nameplate.ratedTcsFlowM3PerS(), m)
                + prior.fwsFilmRatio * promised.fwsFilm().relative(nameplate.ratedFwsFlowM3PerS(), m);
        double films = filmsToday.tcs().relative(today.tcsFlowM3PerS(), m)
                + prior.fwsFilmRatio * filmsToday.fws().relative(today.fwsFlowM3PerS(), m);
        double filmsRated = tcsRated.film().relative(nameplate.ratedTcsFlowM3PerS(), m)
                + prior.fwsFilmRatio * fwsRated.film().relative(openFwsFlowM3PerS, m);
        double promisedFilmsToday = (promised.resistanceKPerW() - wallKPerW) * films / promisedFilms;
        double promisedToday = wallKPerW + promisedFilmsToday;
        double fouling = Math.max(0, resistanceKPerW - promisedToday);
        double filmShare = promisedFilmsToday / promisedToday;
        double filmsKPerW = (resistanceKPerW - fouling) * filmShare;
        return resistanceKPerW - filmsKPerW + filmsKPerW * filmsRated / films;
    }

    /** Films on both sides in today's state. */
    private record Films(FilmResistance tcs, FilmResistance fws) {

        static Computed<Films> of(Design design, SteadyExchanger.Solved today) {
            Computed<FluidState> tcs = design.tcsCoolant().stateAt((today.tcsReturnC() + today.tcsSupplyC()) / 2);
            Computed<FluidState> fws = design.fwsCoolant().stateAt((today.fwsReturnC() + today.fwsSupplyC()) / 2);
            return tcs.flatMap(t -> fws.map(f -> new Films(FilmResistance.of(t), FilmResistance.of(f))));
        }
    }
}
