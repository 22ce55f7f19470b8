package io.loopwarden.indicator;

import io.loopwarden.exchanger.HeatBalance;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;

/**
 * One side of the exchanger. On both sides the supply is the cooler pipe, and the flow meter is taken to sit in it: on PG-25 and
 * water, a meter in the return instead would shift the duty by 0.2 to 0.5 %.
 */
enum Side {
    TCS(Points.TCS_RETURN_TEMPERATURE, Points.TCS_SUPPLY_TEMPERATURE, Points.TCS_FLOW),
    FWS(Points.FWS_RETURN_TEMPERATURE, Points.FWS_SUPPLY_TEMPERATURE, Points.FWS_FLOW);

    /** Below this share of rated flow a loop stands still; flow meters say nothing there. */
    private static final double STANDSTILL_RATIO = 0.02;

    /** Above this multiple of rated flow the number has a wrong unit or scale. */
    private static final double IMPOSSIBLE_RATIO = 3;

    final PointName warm;
    final PointName cool;
    final PointName flow;

    Side(PointName warm, PointName cool, PointName flow) {
        this.warm = warm;
        this.cool = cool;
        this.flow = flow;
    }

    Coolant coolant(Design design) {
        return this == TCS ? design.tcsCoolant() : design.fwsCoolant();
    }

    double ratedFlowM3PerS(Design design) {
        return this == TCS
                ? design.nameplate().ratedTcsFlowM3PerS()
                : design.nameplate().ratedFwsFlowM3PerS();
    }

    /** The side's flow, if it runs and the number can be true. */
    Computed<Estimate> runningFlow(Design design, Means means) {
        return means.of(flow).flatMap(q -> judged(q, ratedFlowM3PerS(design)));
    }

    private Computed<Estimate> judged(Estimate q, double ratedM3PerS) {
        double ratio = q.value() / ratedM3PerS;
        if (ratio < -STANDSTILL_RATIO) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    flow + " is " + Words.litresPerSecond(q.value()) + ": flow cannot be negative; check its sign.");
        }
        if (ratio < STANDSTILL_RATIO) {
            return Computed.unavailable(
                    Reason.NOT_RUNNING,
                    flow + " is " + Words.litresPerSecond(q.value()) + ", below " + Words.percent(STANDSTILL_RATIO, 0)
                            + " of rated flow: the loop stands still.");
        }
        if (ratio > IMPOSSIBLE_RATIO) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    flow + " is " + Words.litresPerSecond(q.value()) + ", " + Words.fixed(ratio, 1)
                            + " times rated flow: check its unit of measure.");
        }
        if (q.standardUncertainty() > q.value()) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE,
                    flow + " is " + Words.litresPerSecond(q.value()) + " with a standard uncertainty of "
                            + Words.litresPerSecond(q.standardUncertainty()) + ": as good as unknown.");
        }
        return Computed.of(q);
    }

    /** Heat that one cubic metre at the meter carries per kelvin between the two pipes, J/(m3 K). */
    Computed<Estimate> heatCapacityJPerM3K(Design design, double warmC, double coolC) {
        Coolant coolant = coolant(design);
        double ratio = coolant.uncertaintyAt((warmC + coolC) / 2).heatCapacityRatio();
        return HeatBalance.capacityRateWPerK(coolant, 1, coolC, warmC, coolC)
                .map(heat -> new Estimate(heat, heat * ratio));
    }

    /** Warm minus cool, or why the two contradict each other. */
    private Computed<Estimate> riseK(Means means) {
        return means.of(warm).flatMap(w -> means.of(cool).flatMap(c -> Temperatures.differenceK(warm, w, cool, c)));
    }

    /** Heat that the side carries, W; may be slightly negative where it is lost in its uncertainty. */
    Computed<Estimate> dutyW(Design design, Means means) {
        return riseK(means)
                .flatMap(rise -> runningFlow(design, means)
                        .flatMap(q -> means.of(cool)
                                .flatMap(c -> heatCapacityJPerM3K(design, c.value() + rise.value(), c.value())
                                        .map(heat -> dutyW(rise, q, heat)))));
    }

    private static Estimate dutyW(Estimate rise, Estimate q, Estimate heat) {
        double rateWPerK = heat.value() * q.value();
        double dutyW = rateWPerK * rise.value();
        double ratio = Math.hypot(q.standardUncertainty() / q.value(), heat.standardUncertainty() / heat.value());
        return new Estimate(dutyW, Math.hypot(dutyW * ratio, rateWPerK * rise.standardUncertainty()));
    }
}
