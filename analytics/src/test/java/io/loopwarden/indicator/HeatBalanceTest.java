package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Duties of both sides, their weighted mean and their disagreement. */
class HeatBalanceTest {

    @Test
    void weightedMeanOfBothSides() {
        // 1000 ± 12 and 980 ± 20 kW: inverse-variance mean by hand.
        Estimate duty = Duty.weighted(new Estimate(1000, 12), new Estimate(980, 20));
        assertThat(duty.value()).isCloseTo(994.706, within(5e-4));
        assertThat(duty.standardUncertainty()).isCloseTo(10.290, within(5e-4));
    }

    @Test
    void closureOfTwoDuties() {
        // 1000 and 960 kW: +4.0816 %; with 1.2 % and 2 % the uncertainty is close to their root sum of squares.
        Estimate closure = Rig.value(Closure.of(new Estimate(1000, 12), new Estimate(960, 19.2)));
        assertThat(closure.value()).isCloseTo(0.040816, within(1e-6));
        assertThat(closure.standardUncertainty()).isCloseTo(Math.hypot(0.012, 0.02), within(1e-5));
    }

    @ParameterizedTest(name = "{0} m3/h from {2} to {3} °C")
    @CsvSource(textBlock = """
            # flowM3PerH, meterC, supplyC, returnC, dutyKW (IF97, density at the meter)
            86.4, 34, 34, 44,   997.22
            100,  30, 30, 38.5, 982.42
            45,   20, 20, 32,   626.10
            """)
    void dutyOfAWaterStream(double flowM3PerH, double meterC, double supplyC, double returnC, double dutyKW) {
        Rig rig = Rig.of(Rig.nameplate(CoolantSpec.WATER, Rig.CALIBRATED))
                .temperatures(returnC, supplyC, supplyC - 4, returnC - 4)
                .tcsFlow(flowM3PerH / 3600);
        assertThat(rig.estimate("tcs-duty").value()).isCloseTo(dutyKW * 1e3, within(500.0));
    }

    @Test
    void oneSideSpeaksForBothWhereTheOtherHasNoFlowMeter() {
        Rig rig = Rig.of(Rig.nameplate(CoolantSpec.WATER, Rig.CALIBRATED))
                .temperatures(44, 34, 30, 40)
                .tcsFlow(0.024);
        assertThat(rig.estimate("duty")).isEqualTo(rig.estimate("tcs-duty"));
        assertThat(rig.evaluate("ua").isAvailable()).isTrue();
        assertThat(UaTest.reason(rig.evaluate("heat-balance-closure"))).isEqualTo(Reason.INPUT_MISSING);
        assertThat(UaTest.detail(rig.evaluate("fws-duty"))).contains("fws.flow has never been received");
    }

    @Test
    void conductanceFollowsFromTheFacilitySideAlone() {
        Rig both = Rig.of(Rig.nameplate(CoolantSpec.WATER, Rig.CALIBRATED))
                .temperatures(44, 34, 30, 40)
                .rates(100e3, 100e3);
        Rig fwsOnly = Rig.of(both.design()).temperatures(44, 34, 30, 40).fwsFlow(flow(both));
        assertThat(fwsOnly.estimate("ua").value()).isCloseTo(both.estimate("ua").value(), within(1e-3));
    }

    private static double flow(Rig rig) {
        return Rig.value(rig.means().of(Points.FWS_FLOW)).value();
    }

    @Test
    void aHeatBalanceThatCannotBeTrueStopsConductance() {
        Rig rig = Rig.of(Rig.nameplate(CoolantSpec.WATER, Rig.CALIBRATED))
                .temperatures(44, 34, 30, 40)
                .rates(100e3, 90e3);
        Computed<Estimate> ua = rig.evaluate("ua");
        assertThat(UaTest.reason(ua)).isEqualTo(Reason.INPUT_IMPLAUSIBLE);
        assertThat(UaTest.detail(ua)).contains("open by 10.5 %");
        assertThat(rig.estimate("heat-balance-closure").value()).isCloseTo(0.10526, within(1e-4));
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(textBlock = """
            # what,                    tcsReturn, tcsSupply, fwsSupply, fwsReturn, tcsFlow, fwsFlow, key, reason, words
            TCS sensors swapped,              34, 44, 30, 40,  0.024,  0.024, ua, INPUT_IMPLAUSIBLE, look swapped
            TCS sensors swapped,              34, 44, 30, 40,  0.024,  0.024, tcs-duty, INPUT_IMPLAUSIBLE, look swapped
            FWS sensors swapped,              44, 34, 40, 30,  0.024,  0.024, ua, INPUT_IMPLAUSIBLE, fws.return.temperature (30.0 °C) is below
            supply below facility supply,     44, 28, 30, 40,  0.024,  0.024, approach, INPUT_IMPLAUSIBLE, tcs.supply.temperature (28.0 °C) is below fws.supply
            facility return above TCS return, 44, 34, 30, 46,  0.024,  0.015, ua, INPUT_IMPLAUSIBLE, below fws.return
            negative flow,                    44, 34, 30, 40, -0.024,  0.024, tcs-duty, INPUT_IMPLAUSIBLE, check its sign
            standstill,                       44, 34, 30, 40,  0.000,  0.024, tcs-duty, NOT_RUNNING, stands still
            facility standstill,              44, 34, 30, 40,  0.024,  0.0001, ua, NOT_RUNNING, stands still
            flow ten times too large,         44, 34, 30, 40,  0.240,  0.024, ua, INPUT_IMPLAUSIBLE, check its unit
            kelvin for Celsius,              317, 307, 303, 313, 0.024, 0.024, approach, INPUT_IMPLAUSIBLE, check the unit
            water about to boil,              99, 95, 91, 94,  0.024,  0.024, tcs-duty, OUTSIDE_VALID_RANGE, °C
            no load,                          30.05, 30.06, 30, 30.02, 0.024, 0.024, ua, NOT_OBSERVABLE, load is too low
            """)
    void whatContradictsPhysicsIsNamed(
            String what,
            double tcsReturnC,
            double tcsSupplyC,
            double fwsSupplyC,
            double fwsReturnC,
            double tcsFlow,
            double fwsFlow,
            String key,
            Reason reason,
            String words) {
        Computed<Estimate> figure = Rig.of(Rig.nameplate(CoolantSpec.WATER, Rig.CALIBRATED))
                .temperatures(tcsReturnC, tcsSupplyC, fwsSupplyC, fwsReturnC)
                .tcsFlow(tcsFlow)
                .fwsFlow(fwsFlow)
                .evaluate(key);
        assertThat(UaTest.reason(figure)).as(UaTest.detail(figure)).isEqualTo(reason);
        assertThat(UaTest.detail(figure)).contains(words);
    }
}
