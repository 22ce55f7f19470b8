package io.loopwarden.indicator;

import io.loopwarden.exchanger.Counterflow;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.HashMap;
import java.util.Map;
import java.util.OptionalDouble;

/** A unit on the test bench: a nameplate, and static windows with known values. */
public final class Rig {

    static final Instant FROM = Instant.parse("2026-11-25T10:00:00Z");
    static final Instant TO = FROM.plusSeconds(900);

    /** Resistance thermometers calibrated as pairs, u = 0.03 K; flow ±0.5 %. */
    public static final SensorClass CALIBRATED = new SensorClass(0.03 * Math.sqrt(3), 0, 0.005, 500);

    static final CoolantSpec PG25 = new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, 0.25);

    private final Design design;
    private final Map<PointName, Computed<Estimate>> byPoint = new HashMap<>();

    private Rig(Design design) {
        this.design = design;
    }

    static Rig of(Nameplate nameplate) {
        return new Rig(new Design(nameplate, IndicatorSettings.DEFAULT));
    }

    /** 1.4 MW at 5 K approach; flows as the two coolants need them. */
    public static Nameplate nameplate(CoolantSpec tcs, SensorClass sensors) {
        return nameplate(tcs, sensors, 1.4e6, 5, 0.032, 0.030);
    }

    static Nameplate nameplate(
            CoolantSpec tcs, SensorClass sensors, double dutyW, double approachK, double tcsFlow, double fwsFlow) {
        return new Nameplate(
                "Quillmere",
                "Q1400",
                dutyW,
                approachK,
                tcsFlow,
                fwsFlow,
                OptionalDouble.of(120_000),
                250_000,
                30,
                tcs,
                CoolantSpec.WATER,
                2,
                1,
                3,
                4,
                0.6,
                0.12,
                80_000,
                OptionalDouble.empty(),
                sensors);
    }

    static Rig of(Design design) {
        return new Rig(design);
    }

    Design design() {
        return design;
    }

    /** TCS return and supply, FWS supply and return; each as good as its sensor class. */
    Rig temperatures(double tcsReturnC, double tcsSupplyC, double fwsSupplyC, double fwsReturnC) {
        temperature(Points.TCS_RETURN_TEMPERATURE, tcsReturnC);
        temperature(Points.TCS_SUPPLY_TEMPERATURE, tcsSupplyC);
        temperature(Points.FWS_SUPPLY_TEMPERATURE, fwsSupplyC);
        temperature(Points.FWS_RETURN_TEMPERATURE, fwsReturnC);
        return this;
    }

    private void temperature(PointName point, double valueC) {
        set(point, valueC, design.nameplate().sensors().temperatureStandardUncertaintyK(valueC));
    }

    Rig tcsFlow(double flowM3PerS) {
        return flow(Points.TCS_FLOW, flowM3PerS);
    }

    Rig fwsFlow(double flowM3PerS) {
        return flow(Points.FWS_FLOW, flowM3PerS);
    }

    private Rig flow(PointName point, double flowM3PerS) {
        return set(
                point,
                flowM3PerS,
                Math.abs(flowM3PerS) * design.nameplate().sensors().flowStandardUncertaintyRatio());
    }

    /** Flows that carry given capacity rates between the temperatures set before. */
    Rig rates(double tcsRateWPerK, double fwsRateWPerK) {
        return tcsFlow(tcsRateWPerK / heat(Side.TCS)).fwsFlow(fwsRateWPerK / heat(Side.FWS));
    }

    Rig tcsRate(double tcsRateWPerK) {
        return tcsFlow(tcsRateWPerK / heat(Side.TCS));
    }

    /** The state that an exchanger of a given UA settles in, worked out forwards. */
    Rig settled(double uaWPerK, double tcsFlowM3PerS, double fwsFlowM3PerS, double fwsSupplyC, double dutyW) {
        temperatures(fwsSupplyC + 12, fwsSupplyC + 4, fwsSupplyC, fwsSupplyC + 8);
        for (int round = 0; round < 8; round++) {
            double tcsRate = heat(Side.TCS) * tcsFlowM3PerS;
            double fwsRate = heat(Side.FWS) * fwsFlowM3PerS;
            double smaller = Math.min(tcsRate, fwsRate);
            double effectiveness =
                    Counterflow.effectivenessRatio(uaWPerK / smaller, smaller / Math.max(tcsRate, fwsRate));
            double tcsReturnC = fwsSupplyC + dutyW / (effectiveness * smaller);
            temperatures(tcsReturnC, tcsReturnC - dutyW / tcsRate, fwsSupplyC, fwsSupplyC + dutyW / fwsRate);
        }
        return tcsFlow(tcsFlowM3PerS).fwsFlow(fwsFlowM3PerS);
    }

    private double heat(Side side) {
        return value(side.heatCapacityJPerM3K(design, mean(side.warm), mean(side.cool)))
                .value();
    }

    private double mean(PointName point) {
        return value(byPoint.get(point)).value();
    }

    Rig set(PointName point, double value, double standardUncertainty) {
        return set(point, Computed.of(new Estimate(value, standardUncertainty)));
    }

    Rig set(PointName point, Computed<Estimate> mean) {
        byPoint.put(point, mean);
        return this;
    }

    Means means() {
        return new Means(FROM, TO, byPoint);
    }

    Evidence evidence() {
        return new Evidence(design, means(), Computed.of(means()));
    }

    Computed<Estimate> evaluate(String key) {
        return Indicators.evaluate(evidence()).stream()
                .filter(result -> result.key().equals(key))
                .findFirst()
                .orElseThrow(() -> new AssertionError("no indicator " + key))
                .value();
    }

    Estimate estimate(String key) {
        return value(evaluate(key));
    }

    static <T> T value(Computed<T> computed) {
        return computed.fold(v -> v, gap -> {
            throw new AssertionError(gap.reason() + ": " + gap.detail());
        });
    }
}
