package io.loopwarden.exchanger;

import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;

/** Heat taken up or given off by a measured stream. */
public final class HeatBalance {

    private HeatBalance() {}

    /** Mass flow behind a volume flow; the meter sees the density at its own temperature. */
    public static Computed<Double> massFlowKgPerS(Coolant coolant, double flowM3PerS, double meterTemperatureC) {
        if (!(flowM3PerS >= 0) || Double.isInfinite(flowM3PerS)) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE, "flow is " + flowM3PerS + " m3/s, must be finite and not negative");
        }
        if (flowM3PerS == 0) {
            return Computed.unavailable(Reason.NOT_RUNNING, "flow is 0 m3/s");
        }
        return coolant.stateAt(meterTemperatureC).map(s -> s.densityKgPerM3() * flowM3PerS);
    }

    /** Heat that the stream gives off between two temperatures, q = m (h_warm - h_cool); negative if they are crossed. */
    public static Computed<Double> dutyW(
            Coolant coolant, double flowM3PerS, double meterTemperatureC, double warmC, double coolC) {
        return massFlowKgPerS(coolant, flowM3PerS, meterTemperatureC)
                .flatMap(massFlow -> coolant.enthalpyJPerKg(warmC)
                        .flatMap(warm -> coolant.enthalpyJPerKg(coolC).map(cool -> massFlow * (warm - cool))));
    }

    /** Capacity rate m·cp with the specific heat averaged between two temperatures, so that duty = rate · difference. */
    public static Computed<Double> capacityRateWPerK(
            Coolant coolant, double flowM3PerS, double meterTemperatureC, double warmC, double coolC) {
        return massFlowKgPerS(coolant, flowM3PerS, meterTemperatureC)
                .flatMap(massFlow ->
                        meanSpecificHeatJPerKgK(coolant, warmC, coolC).map(specificHeat -> massFlow * specificHeat));
    }

    /** Closure (q_hot - q_cold) over their mean: what one side says more than the other. */
    public static Computed<Double> closureRatio(double hotDutyW, double coldDutyW) {
        double meanW = (hotDutyW + coldDutyW) / 2;
        if (!(hotDutyW > 0 && coldDutyW > 0) || Double.isInfinite(meanW)) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE,
                    "duties are " + hotDutyW + " W (hot side) and " + coldDutyW
                            + " W (cold side); both must be above 0");
        }
        return Computed.of((hotDutyW - coldDutyW) / meanW);
    }

    /** Below this difference the mean of two enthalpies loses digits and the specific heat at the middle is as good. */
    private static final double SMALL_DIFFERENCE_K = 0.01;

    private static Computed<Double> meanSpecificHeatJPerKgK(Coolant coolant, double warmC, double coolC) {
        if (Math.abs(warmC - coolC) < SMALL_DIFFERENCE_K) {
            return coolant.stateAt((warmC + coolC) / 2).map(s -> s.specificHeatJPerKgK());
        }
        return coolant.enthalpyJPerKg(warmC)
                .flatMap(warm -> coolant.enthalpyJPerKg(coolC).map(cool -> (warm - cool) / (warmC - coolC)));
    }
}
