package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.exchanger.Conductance;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** UA and approach of computed liquid-liquid cases, and the first-order uncertainty of UA. */
class UaTest {

    private static final double KILO = 1e3;

    @ParameterizedTest(name = "{0}")
    @CsvSource(textBlock = """
            # case,               coolant, mh, cph, mc, cpc, tcsReturnC, fwsSupplyC, dutyKW, uaKWPerK, approachK
            C1 balanced,            WATER, 24, 4180, 24, 4180, 44, 30, 1003.200, 250.8, 4.0000
            C2 cold rich,            PG25, 22, 3960, 30, 4180, 42, 30,  871.207, 264.5, 1.9999
            C3 cold lean,            PG25, 30, 3960, 22, 4180, 46, 30, 1306.780, 418.2, 5.0002
            C4 two megawatts,       WATER, 48, 4180, 52, 4180, 45, 32, 2006.425, 595.4, 2.9999
            C5 small difference,     PG25, 27, 3960, 26, 4180, 32, 22,  801.892, 313.2, 2.5001
            C6 wide and cold lean,   PG25, 24, 3960, 20, 4180, 52, 30, 1520.632, 315.3, 6.0001
            """)
    void conductanceAndApproachOfComputedCases(
            String name,
            String coolant,
            double mh,
            double cph,
            double mc,
            double cpc,
            double tcsReturnC,
            double fwsSupplyC,
            double dutyKW,
            double uaKWPerK,
            double approachK) {
        // Computed from the effectiveness–NTU relations with fixed specific heats; duty printed to 1 W, hence 2e-5.
        Rig rig = rig(coolant, Rig.CALIBRATED)
                .temperatures(
                        tcsReturnC,
                        tcsReturnC - dutyKW * KILO / (mh * cph),
                        fwsSupplyC,
                        fwsSupplyC + dutyKW * KILO / (mc * cpc))
                .rates(mh * cph, mc * cpc);
        assertThat(rig.estimate("ua").value()).isCloseTo(uaKWPerK * KILO, Percentage.withPercentage(0.002));
        assertThat(rig.estimate("approach").value()).isCloseTo(approachK, within(1e-4));
        assertThat(rig.estimate("duty").value()).isCloseTo(dutyKW * KILO, Percentage.withPercentage(1e-6));
        assertThat(rig.estimate("heat-balance-closure").value()).isCloseTo(0, within(1e-9));
    }

    @ParameterizedTest(name = "UA loss {1} %")
    @CsvSource(textBlock = """
            # uaKWPerK, lossPercent, fwsKgPerS, fwsReturnC
            250.80,  0, 24.000, 40.000
            238.26,  5, 25.074, 39.572
            225.72, 10, 26.434, 39.079
            213.18, 15, 28.203, 38.510
            200.64, 20, 30.590, 37.846
            188.10, 25, 33.967, 37.066
            175.56, 30, 39.087, 36.140
            """)
    void conductanceFallsWhileTheControllerHoldsTheApproach(
            double uaKWPerK, int lossPercent, double fwsKgPerS, double fwsReturnC) {
        // The supply temperature is held, so the approach stays 4 K; table rounded to 1 g/s and 1 mK.
        Rig rig = rig("WATER", Rig.CALIBRATED)
                .temperatures(44, 34, 30, fwsReturnC)
                .rates(24 * 4180.0, fwsKgPerS * 4180.0);
        assertThat(rig.estimate("approach").value()).isCloseTo(4, within(1e-9));
        assertThat(rig.estimate("ua").value()).isCloseTo(uaKWPerK * KILO, Percentage.withPercentage(0.02));
    }

    @Test
    void effectivenessAndLogMeanGiveTheSameConductanceThoughTheSidesDisagree() {
        Rig rig =
                rig("PG25", SensorClass.DEFAULT).temperatures(42, 32, 30, 36.9).rates(22 * 3960.0, 30.5 * 4180.0);
        SteadyExchanger state = Rig.value(SteadyExchanger.of(rig.design(), rig.means()));
        SteadyExchanger.Solved solved = state.central();
        double byLogMean = Rig.value(Conductance.byLogMeanWPerK(
                solved.dutyW(), solved.tcsReturnC(), solved.tcsSupplyC(), solved.fwsSupplyC(), solved.fwsReturnC()));
        assertThat(solved.conductanceWPerK()).isCloseTo(byLogMean, Percentage.withPercentage(1e-7));
        assertThat(solved.dutyW())
                .as("reconciled duty is the weighted mean, to first order")
                .isCloseTo(rig.estimate("duty").value(), Percentage.withPercentage(0.05));
    }

    /** Class A: ±(0.15 K + 0.002 |t|), flow ±1 %; calibrated: u = 0.03 K, flow ±0.5 %. */
    @ParameterizedTest(name = "{0} K, {1} %, {2}")
    @CsvSource(textBlock = """
            # full-load approachK, load %, sensors, expected u(UA)/UA %
            4, 100, A,          3.68
            4, 100, CALIBRATED, 0.91
            4,  50, A,          7.14
            4,  50, CALIBRATED, 1.75
            4,  25, A,         14.09
            4,  25, CALIBRATED, 3.46
            4,  10, A,         34.98
            4,  10, CALIBRATED, 8.62
            2, 100, A,          6.58
            2, 100, CALIBRATED, 1.59
            2,  25, A,         25.46
            2,  10, CALIBRATED, 15.59
            6, 100, A,          2.86
            6,  25, A,         10.76
            6,  25, CALIBRATED, 2.64
            """)
    void uncertaintyByFirstOrderPropagation(double fullApproachK, double loadPercent, String sensors, double percent) {
        // Balanced water on water, 10 K at full load, duty from the TCS side alone (JCGM 100:2008, 5.1.2).
        double riseK = 10 * loadPercent / 100;
        double approachK = fullApproachK * loadPercent / 100;
        Rig rig = rig("WATER", sensors.equals("A") ? SensorClass.DEFAULT : Rig.CALIBRATED)
                .temperatures(30 + approachK + riseK, 30 + approachK, 30, 30 + riseK)
                .tcsRate(24 * 4180.0);
        Propagation ua = propagated(rig);
        double withoutProperties = ua.combined(0, SteadyExchanger.TCS_HEAT) / ua.value() * 100;
        assertThat(withoutProperties).isCloseTo(percent, within(0.006 + 0.001 * percent));
    }

    @Test
    void uncertaintyBudgetInputByInput() {
        Rig rig = rig("WATER", SensorClass.DEFAULT).temperatures(44, 34, 30, 40).tcsRate(24 * 4180.0);
        Propagation ua = propagated(rig);
        assertThat(ua.value()).isCloseTo(250.8e3, Percentage.withPercentage(1e-6));
        double[] expectedPercent = {-0.344, -2.832, 1.516, 1.660, 0.577};
        for (int input = 0; input < expectedPercent.length; input++) {
            assertThat(100 * ua.contribution(input) / ua.value())
                    .as("input " + input)
                    .isCloseTo(expectedPercent[input], within(0.002));
        }
        Estimate accepted = rig.estimate("ua");
        assertThat(accepted.standardUncertainty() / accepted.value()).isCloseTo(0.0368, within(0.0001));
    }

    @Test
    void tooUncertainConductanceNamesTheLoadThatWouldShowIt() {
        Rig rig = rig("WATER", SensorClass.DEFAULT).temperatures(37, 32, 30, 35).tcsRate(24 * 4180.0);
        Computed<Estimate> ua = rig.evaluate("ua");
        assertThat(reason(ua)).isEqualTo(Reason.NOT_OBSERVABLE);
        // 7.14 % at 502 kW; temperatures make up all but 0.6 %, so 5 % is reached at about 502 · 7.12 / 4.97 = 719 kW.
        assertThat(detail(ua)).contains("7.1 %").contains("a load of 719 kW, now it is 502 kW");
    }

    @Test
    void sensorsThatCannotShowItEvenAtRatedDutyAreSaidSo() {
        Rig rig = rig("WATER", new SensorClass(0.3, 0.005, 0.01, 1000))
                .temperatures(37, 32, 30, 35)
                .tcsRate(24 * 4180.0);
        assertThat(detail(rig.evaluate("ua"))).contains("more than rated duty");
    }

    private static Propagation propagated(Rig rig) {
        SteadyExchanger state = Rig.value(SteadyExchanger.of(rig.design(), rig.means()));
        return state.propagate(SteadyExchanger.Solved::conductanceWPerK).orElseThrow();
    }

    private static Rig rig(String coolant, SensorClass sensors) {
        return Rig.of(Rig.nameplate(coolant.equals("PG25") ? Rig.PG25 : CoolantSpec.WATER, sensors));
    }

    static Reason reason(Computed<Estimate> computed) {
        return computed.fold(
                v -> {
                    throw new AssertionError("available: " + v);
                },
                Computed.Unavailable::reason);
    }

    static String detail(Computed<Estimate> computed) {
        return computed.fold(v -> "available: " + v, Computed.Unavailable::detail);
    }
}
