package io.loopwarden.hydraulics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Worked pump cases; heads in metres stand for pressures, flows in m3/h, since the laws do not care for units. */
class PumpCurveTest {

    private static final double RHO_WATER_40C = 992.311;
    private static final PumpCurve CURVE = new PumpCurve(32, 1.2e-3);

    @Test
    void hydraulicPowerAndEfficiency() {
        double dpPa = HydraulicPower.dpPa(25, RHO_WATER_40C);
        double flow = 86.4 / 3600;
        assertThat(dpPa).isCloseTo(243_281.2, within(0.1));
        assertThat(HydraulicPower.headM(dpPa, RHO_WATER_40C)).isCloseTo(25, within(1e-9));
        assertThat(HydraulicPower.watts(dpPa, flow)).isCloseTo(5838.75, within(0.01));
        assertThat(HydraulicPower.efficiencyRatio(dpPa, flow, 8000)).isCloseTo(0.72984, within(1e-5));
        assertThat(HydraulicPower.efficiencyRatio(dpPa, flow, 8800)).isCloseTo(0.66349, within(1e-5));
    }

    @Test
    void affinityLawsAtFourFifthsOfSpeed() {
        double ratio = 2320.0 / 2900;
        assertThat(Affinity.flow(86.4, ratio)).isCloseTo(69.12, within(1e-9));
        assertThat(Affinity.pressure(25, ratio)).isCloseTo(16, within(1e-9));
        assertThat(Affinity.power(8, ratio)).isCloseTo(4.096, within(1e-9));
    }

    @Test
    void headLossAgainstTheCurveIsTheHeadRatio() {
        double expected = CURVE.dpPa(0.85, 60);
        assertThat(expected).isCloseTo(18.8, within(1e-9));
        assertThat(17.5 / expected).isCloseTo(0.93085, within(1e-5));
    }

    @Test
    void flowFollowsFromHead() {
        assertThat(CURVE.flowM3PerS(0.85, 17.5)).isCloseTo(68.4349, within(1e-4));
        assertThat(CURVE.flowM3PerS(0.5, 17.5)).isZero();
    }

    /** With static head the flow does not follow speed: 0.7211 at 0.8 of speed. */
    @Test
    void operatingPointOnASystemWithStaticHead() {
        double full = CURVE.operatingFlowM3PerS(1, 8, 2e-3);
        double slower = CURVE.operatingFlowM3PerS(0.8, 8, 2e-3);
        assertThat(full).isCloseTo(86.6025, within(1e-4));
        assertThat(CURVE.dpPa(1, full)).isCloseTo(23, within(1e-9));
        assertThat(slower).isCloseTo(62.4500, within(1e-4));
        assertThat(slower / full).isCloseTo(0.7211, within(1e-4));
        assertThat(CURVE.operatingFlowM3PerS(0.49, 8, 2e-3)).isZero();
    }

    @Test
    void inAClosedLoopFlowFollowsSpeed() {
        assertThat(CURVE.operatingFlowM3PerS(0.8, 0, 2e-3))
                .isCloseTo(0.8 * CURVE.operatingFlowM3PerS(1, 0, 2e-3), within(1e-9));
    }

    @Test
    void aCurveOfKnownShapeFollowsFromOnePoint() {
        double shape = 32 / CURVE.dpPa(1, 80);
        PumpCurve found = PumpCurve.through(CURVE.dpPa(0.85, 60), 60, 0.85, shape, 80);
        assertThat(found.shutOffPa()).isCloseTo(32, within(1e-9));
        assertThat(found.curvaturePaS2PerM6()).isCloseTo(1.2e-3, within(1e-12));
    }
}
