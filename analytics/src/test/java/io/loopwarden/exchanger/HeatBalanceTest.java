package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Computed.Reason;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class HeatBalanceTest {

    private static final Coolant WATER = Coolant.of(CoolantSpec.WATER);

    /** Enthalpy differences of an independent IAPWS implementation, printed to 10 W. */
    @ParameterizedTest
    @CsvSource({
        "W1, 86.4,  34, 34, 44,   23.8672, 997.22",
        "W2, 86.4,  44, 34, 44,   23.7774, 993.46",
        "W3, 100.0, 30, 30, 38.5, 27.6595, 982.42",
        "W4, 45.0,  20, 20, 32,   12.4787, 626.10",
        "W5, 12.0,  40, 40, 41,   3.3077,  13.82"
    })
    void dutyOfAStream(
            String name, double m3PerH, double meterC, double coolC, double warmC, double kgPerS, double dutyKW) {
        double flow = m3PerH / 3600;
        assertThat(valueOf(HeatBalance.massFlowKgPerS(WATER, flow, meterC))).isCloseTo(kgPerS, within(0.000051));
        double dutyW = valueOf(HeatBalance.dutyW(WATER, flow, meterC, warmC, coolC));
        assertThat(dutyW).isCloseTo(1e3 * dutyKW, within(5.1));
        assertThat(valueOf(HeatBalance.capacityRateWPerK(WATER, flow, meterC, warmC, coolC)) * (warmC - coolC))
                .isCloseTo(dutyW, withinPercentage(1e-9));
    }

    @Test
    void capacityRateIsContinuousWhereTheTemperaturesMeet() {
        double apart = valueOf(HeatBalance.capacityRateWPerK(WATER, 0.02, 30, 35.0100001, 35));
        double together = valueOf(HeatBalance.capacityRateWPerK(WATER, 0.02, 30, 35.0099999, 35));
        assertThat(together).isCloseTo(apart, withinPercentage(1e-4));
        assertThat(valueOf(HeatBalance.capacityRateWPerK(WATER, 0.02, 30, 35, 35)))
                .isCloseTo(apart, withinPercentage(1e-4));
    }

    @Test
    void closure() {
        assertThat(valueOf(HeatBalance.closureRatio(1000e3, 960e3))).isCloseTo(0.040816, within(5e-7));
        assertThat(reasonOf(HeatBalance.closureRatio(0, 960e3))).isEqualTo(Reason.NOT_OBSERVABLE);
        assertThat(reasonOf(HeatBalance.closureRatio(Double.NaN, 960e3))).isEqualTo(Reason.NOT_OBSERVABLE);
    }

    @ParameterizedTest
    @CsvSource({
        "-0.01, 30, 40, INPUT_IMPLAUSIBLE",
        "NaN,   30, 40, INPUT_IMPLAUSIBLE",
        "0,     30, 40, NOT_RUNNING",
        "0.01,  30, 95, OUTSIDE_VALID_RANGE",
        "0.01,  -5, 40, OUTSIDE_VALID_RANGE"
    })
    void badInputIsAReasonNotANumber(double flow, double coolC, double warmC, Reason reason) {
        assertThat(reasonOf(HeatBalance.dutyW(WATER, flow, coolC, warmC, coolC)))
                .isEqualTo(reason);
        assertThat(reasonOf(HeatBalance.capacityRateWPerK(WATER, flow, coolC, warmC, coolC)))
                .isEqualTo(reason);
    }

    @ParameterizedTest
    @CsvSource({
        "1e6, 0,   1e5, 44, 30, NOT_RUNNING",
        "1e6, 1e5, NaN, 44, 30, NOT_RUNNING",
        "0,   1e5, 1e5, 44, 30, NOT_OBSERVABLE",
        "1e6, 1e5, 1e5, 30, 44, NOT_OBSERVABLE",
        "2e6, 1e5, 1e5, 44, 30, INPUT_IMPLAUSIBLE"
    })
    void conductanceFromBadInputIsAReasonNotANumber(
            double dutyW, double hotRate, double coldRate, double hotInletC, double coldInletC, Reason reason) {
        assertThat(reasonOf(Conductance.byEffectivenessWPerK(dutyW, hotRate, coldRate, hotInletC, coldInletC)))
                .isEqualTo(reason);
    }

    /** Common practice, no source: a skid of about 2 MW at 31.5 L/s of water warms it by about 15 K. */
    @Test
    void twoMegawattSkidWarmsItsWaterByFifteenKelvin() {
        double rate = valueOf(HeatBalance.capacityRateWPerK(WATER, 31.5e-3, 35, 50, 35));
        assertThat(2e6 / rate).isCloseTo(15, within(0.5));
    }

    /** Common practice, no source: 31.5 L/s against 85 psi is about 18.5 kW of hydraulic power. */
    @Test
    void hydraulicPowerOfTheSameSkid() {
        double headPa = 85 * 6894.757293168;
        assertThat(headPa * 31.5e-3).isCloseTo(18_500, withinPercentage(1));
    }
}
