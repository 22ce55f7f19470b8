package io.loopwarden.indicator;

import static io.loopwarden.indicator.Side.FWS;
import static io.loopwarden.indicator.Side.TCS;

import io.loopwarden.exchanger.Conductance;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/**
 * The exchanger in one steady window: eight measured inputs with their uncertainties, and what follows from any values of them.
 *
 * <p>With both flows known the inputs say the duty twice. They are reconciled first: moved by least squares, each in proportion to
 * its variance, until both sides carry the same heat (Narasimhan and Jordache, <i>Data Reconciliation</i>, 2000). So UA by
 * effectiveness and by log mean difference are the same number, and the better-known inputs count for more. With one flow
 * missing, it follows from the heat balance.
 */
final class SteadyExchanger {

    static final int TCS_RETURN_C = 0;
    static final int TCS_SUPPLY_C = 1;
    static final int FWS_SUPPLY_C = 2;
    static final int FWS_RETURN_C = 3;
    static final int TCS_FLOW = 4;
    static final int FWS_FLOW = 5;
    /** Factor on the heat capacity of the coolant, 1 with the uncertainty of the property source. */
    static final int TCS_HEAT = 6;

    static final int FWS_HEAT = 7;
    static final int INPUTS = 8;

    /** The constraint is bilinear; the residual falls by orders of magnitude a round. */
    private static final int RECONCILIATION_ROUNDS = 3;

    private final Design design;
    private final double[] inputs;
    private final double[] uncertainties;
    private final boolean tcsFlowKnown;
    private final boolean fwsFlowKnown;
    private final double tcsHeatJPerM3K;
    private final double fwsHeatJPerM3K;
    private final Solved central;
    private final Solved[] above = new Solved[INPUTS];
    private final Solved[] below = new Solved[INPUTS];

    private SteadyExchanger(
            Design design,
            double[] inputs,
            double[] uncertainties,
            boolean tcsFlowKnown,
            boolean fwsFlowKnown,
            double tcsHeatJPerM3K,
            double fwsHeatJPerM3K) {
        this.design = design;
        this.inputs = inputs;
        this.uncertainties = uncertainties;
        this.tcsFlowKnown = tcsFlowKnown;
        this.fwsFlowKnown = fwsFlowKnown;
        this.tcsHeatJPerM3K = tcsHeatJPerM3K;
        this.fwsHeatJPerM3K = fwsHeatJPerM3K;
        this.central = solve(inputs);
        for (int i = 0; i < INPUTS; i++) {
            above[i] = stepped(i, 1);
            below[i] = stepped(i, -1);
        }
    }

    static Computed<SteadyExchanger> of(Design design, Means means) {
        return Flows.of(design, means)
                .flatMap(flows -> Temperatures.of(means).flatMap(temperatures -> of(design, temperatures, flows)));
    }

    private static Computed<SteadyExchanger> of(Design design, Temperatures t, Flows flows) {
        return TCS.heatCapacityJPerM3K(
                        design, t.tcsReturn().value(), t.tcsSupply().value())
                .flatMap(tcs -> FWS.heatCapacityJPerM3K(
                                design, t.fwsReturn().value(), t.fwsSupply().value())
                        .map(fws -> of(design, t, flows, tcs, fws)));
    }

    private static SteadyExchanger of(Design design, Temperatures t, Flows flows, Estimate tcsHeat, Estimate fwsHeat) {
        Estimate unknown = new Estimate(0, 0);
        Estimate[] estimates = {
            t.tcsReturn(),
            t.tcsSupply(),
            t.fwsSupply(),
            t.fwsReturn(),
            flows.tcs().orElse(unknown),
            flows.fws().orElse(unknown),
            new Estimate(1, tcsHeat.standardUncertainty() / tcsHeat.value()),
            new Estimate(1, fwsHeat.standardUncertainty() / fwsHeat.value())
        };
        double[] x = new double[INPUTS];
        double[] u = new double[INPUTS];
        for (int i = 0; i < INPUTS; i++) {
            x[i] = estimates[i].value();
            u[i] = estimates[i].standardUncertainty();
        }
        return new SteadyExchanger(
                design, x, u, flows.tcs().isPresent(), flows.fws().isPresent(), tcsHeat.value(), fwsHeat.value());
    }

    Design design() {
        return design;
    }

    double[] inputs() {
        return inputs.clone();
    }

    double[] uncertainties() {
        return uncertainties.clone();
    }

    /** The state that the measured inputs stand for. */
    Solved central() {
        return central;
    }

    /** The state with one input a step above (below) what was measured; the central one for an input without uncertainty. */
    Solved above(int input) {
        return above[input];
    }

    Solved below(int input) {
        return below[input];
    }

    private Solved stepped(int input, double steps) {
        if (uncertainties[input] == 0) {
            return central;
        }
        double[] x = inputs.clone();
        x[input] += steps * Propagation.STEP * uncertainties[input];
        return solve(x);
    }

    /** Uncertainty of a figure of the state. */
    Optional<Propagation> propagate(ToDoubleFunction<Solved> figure) {
        double[] up = new double[INPUTS];
        double[] down = new double[INPUTS];
        for (int i = 0; i < INPUTS; i++) {
            up[i] = figure.applyAsDouble(above[i]);
            down[i] = figure.applyAsDouble(below[i]);
        }
        return Propagation.of(figure.applyAsDouble(central), up, down);
    }

    /** The state that any values of the inputs stand for; figures are not finite where there is none. */
    Solved solve(double[] measured) {
        double[] x = tcsFlowKnown && fwsFlowKnown ? reconcile(measured) : measured;
        double tcsRiseK = x[TCS_RETURN_C] - x[TCS_SUPPLY_C];
        double fwsRiseK = x[FWS_RETURN_C] - x[FWS_SUPPLY_C];
        double tcsHeat = tcsHeatJPerM3K * x[TCS_HEAT];
        double fwsHeat = fwsHeatJPerM3K * x[FWS_HEAT];
        double dutyW = tcsFlowKnown ? tcsHeat * x[TCS_FLOW] * tcsRiseK : fwsHeat * x[FWS_FLOW] * fwsRiseK;
        double tcsRate = dutyW / tcsRiseK;
        double fwsRate = dutyW / fwsRiseK;
        double conductance = Conductance.byEffectivenessWPerK(dutyW, tcsRate, fwsRate, x[TCS_RETURN_C], x[FWS_SUPPLY_C])
                .fold(ua -> ua, gap -> Double.NaN);
        return new Solved(
                dutyW,
                conductance,
                tcsRate / tcsHeat,
                fwsRate / fwsHeat,
                x[TCS_HEAT],
                x[FWS_HEAT],
                x[TCS_RETURN_C],
                x[TCS_SUPPLY_C],
                x[FWS_SUPPLY_C],
                x[FWS_RETURN_C]);
    }

    /** Least squares on q_TCS(x) - q_FWS(x) = 0 with weights 1/u², linearised anew in each round. */
    private double[] reconcile(double[] measured) {
        double[] x = measured.clone();
        double[] gradient = new double[INPUTS];
        for (int round = 0; round < RECONCILIATION_ROUNDS; round++) {
            double tcsRate = tcsHeatJPerM3K * x[TCS_HEAT] * x[TCS_FLOW];
            double fwsRate = fwsHeatJPerM3K * x[FWS_HEAT] * x[FWS_FLOW];
            double tcsDuty = tcsRate * (x[TCS_RETURN_C] - x[TCS_SUPPLY_C]);
            double fwsDuty = fwsRate * (x[FWS_RETURN_C] - x[FWS_SUPPLY_C]);
            gradient[TCS_RETURN_C] = tcsRate;
            gradient[TCS_SUPPLY_C] = -tcsRate;
            gradient[FWS_SUPPLY_C] = fwsRate;
            gradient[FWS_RETURN_C] = -fwsRate;
            gradient[TCS_FLOW] = tcsDuty / x[TCS_FLOW];
            gradient[FWS_FLOW] = -fwsDuty / x[FWS_FLOW];
            gradient[TCS_HEAT] = tcsDuty / x[TCS_HEAT];
            gradient[FWS_HEAT] = -fwsDuty / x[FWS_HEAT];
            double residual = tcsDuty - fwsDuty;
            double variance = 0;
            for (int i = 0; i < INPUTS; i++) {
                residual += gradient[i] * (measured[i] - x[i]);
                double c = gradient[i] * uncertainties[i];
                variance += c * c;
            }
            if (variance == 0) {
                return measured;
            }
            for (int i = 0; i < INPUTS; i++) {
                x[i] = measured[i] - uncertainties[i] * uncertainties[i] * gradient[i] * residual / variance;
            }
        }
        return x;
    }

    /** UA, W/K, if it is known well enough to mean something. */
    Computed<Estimate> conductanceWPerK() {
        Optional<Propagation> propagated = propagate(Solved::conductanceWPerK);
        if (propagated.isEmpty()) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE,
                    "The temperatures at one end of the exchanger nearly touch; within their uncertainty they cross.");
        }
        Estimate ua = propagated.get().estimate();
        double limit = design.settings().conductanceUncertaintyLimitRatio();
        double ratio = ua.standardUncertainty() / ua.value();
        return ratio <= limit ? Computed.of(ua) : tooUncertain(propagated.get(), ratio, limit);
    }

    /**
     * At unchanged flows the temperature differences grow with the load, so what the temperature sensors add to the relative
     * uncertainty falls as 1/load, and the rest stays.
     */
    private Computed<Estimate> tooUncertain(Propagation ua, double ratio, double limit) {
        double temperatures = ua.combined(TCS_RETURN_C, FWS_RETURN_C + 1) / ua.value();
        double rest = ua.combined(TCS_FLOW, INPUTS) / ua.value();
        double dutyW = central.dutyW();
        String known = "UA is known to " + Words.percent(ratio, 1) + " only, " + Words.percent(limit, 1)
                + " is asked (standard uncertainty); at these flows it takes ";
        double neededW = dutyW * temperatures / Math.sqrt(limit * limit - rest * rest);
        if (!(neededW <= design.nameplate().ratedDutyW())) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE, known + "more than rated duty: these sensors cannot show it.");
        }
        return Computed.unavailable(
                Reason.NOT_OBSERVABLE,
                known + "a load of " + Words.watts(neededW) + ", now it is " + Words.watts(dutyW) + ".");
    }

    /**
     * One state of the exchanger in which both sides carry the same heat.
     *
     * @param conductanceWPerK by effectiveness and NTU; not a number where the temperatures allow none
     */
    record Solved(
            double dutyW,
            double conductanceWPerK,
            double tcsFlowM3PerS,
            double fwsFlowM3PerS,
            double tcsHeatFactor,
            double fwsHeatFactor,
            double tcsReturnC,
            double tcsSupplyC,
            double fwsSupplyC,
            double fwsReturnC) {}
}
