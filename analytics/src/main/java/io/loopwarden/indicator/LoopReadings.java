package io.loopwarden.indicator;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.fluid.VapourPressure;
import io.loopwarden.hydraulics.HydraulicPower;
import io.loopwarden.hydraulics.LoopReading;
import io.loopwarden.hydraulics.LoopReading.BranchFlow;
import io.loopwarden.hydraulics.LoopReading.PumpReading;
import io.loopwarden.hydraulics.LoopReading.ValveReading;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/** The last two minutes as the histories of a unit's loops take them. */
final class LoopReadings {

    private static final double REFERENCE_C = 40;
    private static final double ATMOSPHERE_PA = 101_325;

    private LoopReadings() {}

    /** @param scatter standard deviation of a point within the two minutes */
    static LoopReading of(Hydraulics hydraulics, ToDoubleFunction<PointName> scatter) {
        Design design = hydraulics.design();
        Means means = hydraulics.means();
        Nameplate n = design.nameplate();
        Map<Integer, Double> filterPa = new HashMap<>();
        for (int i = 1; i <= n.filters(); i++) {
            int number = i;
            value(means, Points.numbered("tcs.filter.{n}.dp", i)).ifPresent(dp -> filterPa.put(number, dp));
        }
        return new LoopReading(
                epochS(means),
                optional(Side.TCS.dutyW(design, means)).map(q -> q.value() / n.ratedDutyW()),
                tcs(hydraulics),
                fws(design, means),
                filterPa,
                value(means, Points.FWS_STRAINER_DP),
                value(means, Points.TCS_DP),
                pump(hydraulics, scatter),
                valve(design, means));
    }

    private static double epochS(Means means) {
        return means.to().getEpochSecond() + means.to().getNano() * 1e-9;
    }

    private static Optional<Estimate> optional(Computed<Estimate> computed) {
        return computed.fold(Optional::of, gap -> Optional.empty());
    }

    private static Optional<Double> value(Means means, PointName point) {
        return optional(means.of(point)).map(Estimate::value);
    }

    private static Optional<BranchFlow> tcs(Hydraulics hydraulics) {
        Design design = hydraulics.design();
        Means means = hydraulics.means();
        Optional<Double> warm = value(means, Points.TCS_RETURN_TEMPERATURE);
        Optional<Double> atC = warm.isPresent() ? warm : value(means, Points.TCS_SUPPLY_TEMPERATURE);
        return optional(hydraulics.flow())
                .flatMap(q -> atC.flatMap(t -> branch(
                        design.tcsCoolant(), q.value() / design.nameplate().ratedTcsFlowM3PerS(), t)));
    }

    private static Optional<BranchFlow> fws(Design design, Means means) {
        double rated = design.nameplate().ratedFwsFlowM3PerS();
        return optional(Side.FWS.runningFlow(design, means))
                .map(q -> q.value() / rated)
                .filter(ratio -> ratio >= HydraulicPriors.LEAST_FLOW_RATIO)
                .flatMap(ratio -> value(means, Points.FWS_SUPPLY_TEMPERATURE)
                        .flatMap(t -> branch(design.fwsCoolant(), ratio, t)));
    }

    private static Optional<BranchFlow> branch(Coolant coolant, double flowRatio, double temperatureC) {
        return coolant.stateAt(temperatureC)
                .flatMap(now -> coolant.stateAt(REFERENCE_C)
                        .map(reference -> new BranchFlow(
                                flowRatio * now.viscosityPaS() / reference.viscosityPaS(),
                                flowRatio * flowRatio * now.densityKgPerM3() / reference.densityKgPerM3())))
                .fold(Optional::of, gap -> Optional.empty());
    }

    private static Optional<PumpReading> pump(Hydraulics hydraulics, ToDoubleFunction<PointName> scatter) {
        Means means = hydraulics.means();
        double rated = hydraulics.design().nameplate().ratedTcsFlowM3PerS()
                / hydraulics.design().nameplate().pumpsNeeded();
        return hydraulics
                .running()
                .fold(Optional::of, gap -> Optional.<RunningPumps>empty())
                .filter(running -> running.count() == 1)
                .flatMap(running -> optional(running.dp())
                        .flatMap(dp -> optional(hydraulics.flow()).map(q -> {
                            int number = running.numbers().get(0);
                            double rough = scatter.applyAsDouble(RunningPumps.dpOf(number));
                            return new PumpReading(
                                    number,
                                    running.speed().value(),
                                    q.value() / rated,
                                    dp.value(),
                                    value(means, Points.numbered("pump.{n}.power", number)),
                                    dp.value() > 0 ? rough / dp.value() : 0,
                                    suctionHeadM(hydraulics.design(), means));
                        })));
    }

    /** The suction is taken to hang on the return, whose pressure is measured. */
    private static Optional<Double> suctionHeadM(Design design, Means means) {
        return value(means, Points.TCS_RETURN_PRESSURE)
                .flatMap(p -> value(means, Points.TCS_RETURN_TEMPERATURE)
                        .flatMap(t -> design.tcsCoolant()
                                .stateAt(t)
                                .map(state -> HydraulicPower.headM(
                                        p + ATMOSPHERE_PA - VapourPressure.waterPa(t), state.densityKgPerM3()))
                                .fold(Optional::of, gap -> Optional.empty())));
    }

    private static Optional<ValveReading> valve(Design design, Means means) {
        Nameplate n = design.nameplate();
        if (n.designFwsDpPa().isEmpty()) {
            return Optional.empty();
        }
        return value(means, Points.FWS_VALVE_POSITION)
                .flatMap(x -> value(means, Points.FWS_DP)
                        .flatMap(dp -> optional(Side.FWS.runningFlow(design, means))
                                .map(q -> {
                                    double ratio = q.value() / n.ratedFwsFlowM3PerS();
                                    return new ValveReading(
                                            x, dp / n.designFwsDpPa().getAsDouble() / (ratio * ratio));
                                })));
    }
}
