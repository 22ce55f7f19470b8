package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.Random;
import org.assertj.core.data.Percentage;
import org.hipparchus.stat.descriptive.StreamingStatistics;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Approach at rated duty with the valve open, and what is left of the promise. */
class HeatTransferReserveTest {

    private static final Nameplate WATER = Rig.nameplate(CoolantSpec.WATER, Rig.CALIBRATED);
    private static final double TCS_FLOW = WATER.ratedTcsFlowM3PerS();
    private static final double FWS_FLOW = WATER.ratedFwsFlowM3PerS();
    private static final double DUTY_W = WATER.ratedDutyW();
    private static final double DESIGN_DP_PA = 120_000;

    @Test
    void aUnitInItsDesignConditionKeepsExactlyWhatWasPromised() {
        Rig rig = Rig.of(WATER).settled(promisedConductance(WATER), TCS_FLOW, FWS_FLOW, 30, DUTY_W);
        openValve(rig);
        assertThat(rig.estimate("approach-at-rated-duty").value()).isCloseTo(5, within(1e-6));
        assertThat(rig.estimate("duty-at-rated-approach").value()).isCloseTo(DUTY_W, within(1.0));
        assertThat(rig.estimate("heat-transfer-reserve").value()).isCloseTo(1, within(1e-6));
    }

    /** Films soften with load, since the loops get warmer: the carried-over approach may move by that much and no more. */
    @ParameterizedTest
    @ValueSource(doubles = {0.5, 0.7, 0.9})
    void loadAtUnchangedFlowsDoesNotMoveTheApproachAtRatedDuty(double load) {
        Rig rig = Rig.of(WATER).settled(promisedConductance(WATER), TCS_FLOW, FWS_FLOW, 30, load * DUTY_W);
        openValve(rig);
        assertThat(rig.estimate("approach-at-rated-duty").value()).isCloseTo(5, within(0.25));
    }

    @ParameterizedTest(name = "flows {0} and {1} of rated")
    @CsvSource({"0.9, 0.9", "0.7, 0.7", "1.0, 0.5", "0.7, 1.0", "0.5, 0.5"})
    void flowsBelowRatedAreNotTakenForFouling(double tcsRatio, double fwsRatio) {
        // Clean unit after the model 1/UA = R_w + a_h F_h^-0.7 + a_c F_c^-0.7 with R_w : a_h : a_c = 0.60 : 1.70 :
        // 1.50.
        double clean = 1 / promisedConductance(WATER);
        double resistance = clean * (0.60 + 1.70 * Math.pow(tcsRatio, -0.7) + 1.50 * Math.pow(fwsRatio, -0.7)) / 3.80;
        Rig rig = Rig.of(WATER)
                .settled(1 / resistance, tcsRatio * TCS_FLOW, fwsRatio * FWS_FLOW, 30, 0.6 * DUTY_W)
                .set(Points.FWS_VALVE_POSITION, 0.5, 0)
                .set(Points.FWS_DP, DESIGN_DP_PA, 300);
        Estimate approach = rig.estimate("approach-at-rated-duty");
        assertThat(approach.value()).isCloseTo(5, within(2 * approach.standardUncertainty()));
        assertThat(approach.standardUncertainty()).isLessThan(0.4);
    }

    @Test
    void foulingAtPartFlowIsCarriedToRatedFlowAsFouling() {
        // Flows 0.7 and 0.7 with an added resistance of 0.40 to the clean 3.80 (relative): rated UA falls by the factor
        // 3.80/4.20.
        double promised = promisedConductance(WATER);
        double films = 3.20 * Math.pow(0.7, -0.7);
        double resistance = (0.60 + films + 0.40) / 3.80 / promised;
        Rig rig = Rig.of(WATER)
                .settled(1 / resistance, 0.7 * TCS_FLOW, 0.7 * FWS_FLOW, 30, 0.7 * DUTY_W)
                .set(Points.FWS_VALVE_POSITION, 0.6, 0)
                .set(Points.FWS_DP, DESIGN_DP_PA, 300);
        double trueApproachK = Rig.of(WATER)
                .settled(promised * 3.80 / 4.20, TCS_FLOW, FWS_FLOW, 30, DUTY_W)
                .estimate("approach")
                .value();
        Estimate approach = rig.estimate("approach-at-rated-duty");
        assertThat(trueApproachK).isGreaterThan(5.4);
        assertThat(approach.value()).isCloseTo(trueApproachK, within(2 * approach.standardUncertainty()));
        assertThat(approach.value()).isCloseTo(trueApproachK, Percentage.withPercentage(5));
    }

    @Test
    void lowFacilityPressureCostsReserve() {
        Estimate full = atPressure(DESIGN_DP_PA).estimate("heat-transfer-reserve");
        Estimate half = atPressure(DESIGN_DP_PA / 2).estimate("heat-transfer-reserve");
        assertThat(half.value()).isLessThan(full.value() - 0.1);
    }

    @Test
    void unknownFacilityPressureMakesTheReserveLessCertain() {
        double known =
                atPressure(DESIGN_DP_PA).estimate("heat-transfer-reserve").standardUncertainty();
        double unknown = settledHalfOpen().estimate("heat-transfer-reserve").standardUncertainty();
        assertThat(unknown).isGreaterThan(1.3 * known);
    }

    @Test
    void withTheValveOpenTodaysFlowIsAllThereIs() {
        Rig rig = Rig.of(WATER)
                .settled(promisedConductance(WATER), TCS_FLOW, 0.8 * FWS_FLOW, 30, 0.8 * DUTY_W)
                .set(Points.FWS_VALVE_POSITION, 0.99, 0)
                .set(Points.FWS_DP, DESIGN_DP_PA, 300);
        double open = rig.estimate("heat-transfer-reserve").value();
        double closed = rig.set(Points.FWS_VALVE_POSITION, 0.5, 0)
                .estimate("heat-transfer-reserve")
                .value();
        assertThat(open).isLessThan(closed - 0.05);
    }

    @Test
    void reserveIsPromisedOverProjectedApproachInAllThreeFigures() {
        Rig rig = settledHalfOpen();
        Estimate approach = rig.estimate("approach-at-rated-duty");
        Estimate duty = rig.estimate("duty-at-rated-approach");
        Estimate reserve = rig.estimate("heat-transfer-reserve");
        assertThat(duty.value()).isCloseTo(DUTY_W * 5 / approach.value(), within(1e-3));
        assertThat(reserve.value()).isCloseTo(5 / approach.value(), within(1e-12));
        assertThat(reserve.standardUncertainty() / reserve.value())
                .isCloseTo(approach.standardUncertainty() / approach.value(), within(1e-12));
    }

    /** First-order propagation against JCGM 101:2008: 4,000 draws know a standard deviation to 1.1 %, hence 5 %. */
    @Test
    void propagatedUncertaintyAgreesWithMonteCarlo() {
        Rig rig = settledHalfOpen().set(Points.FWS_DP, DESIGN_DP_PA, 300);
        SteadyExchanger state = Rig.value(SteadyExchanger.of(rig.design(), rig.means()));
        Random random = new Random(1);
        StreamingStatistics drawn = new StreamingStatistics();
        for (int i = 0; i < 4000; i++) {
            double[] x = state.inputs();
            double[] u = state.uncertainties();
            for (int input = 0; input < x.length; input++) {
                x[input] += u[input] * random.nextGaussian();
            }
            drawn.addValue(state.solve(x).conductanceWPerK());
        }
        assertThat(rig.estimate("ua").standardUncertainty())
                .isCloseTo(drawn.getStandardDeviation(), Percentage.withPercentage(5));
    }

    @Test
    void aPromiseThatNoExchangerCanKeepIsNamed() {
        Nameplate impossible = Rig.nameplate(CoolantSpec.WATER, Rig.CALIBRATED, 1.4e6, 5, 0.032, 0.015);
        Rig rig = Rig.of(impossible).settled(250e3, 0.024, 0.024, 30, 1e6);
        assertThat(rig.evaluate("ua").isAvailable()).isTrue();
        assertThat(UaTest.reason(rig.evaluate("heat-transfer-reserve"))).isEqualTo(Reason.OUTSIDE_VALID_RANGE);
        assertThat(UaTest.detail(rig.evaluate("heat-transfer-reserve"))).contains("Q1400", "15.0 L/s");
    }

    private static Rig atPressure(double dpPa) {
        return settledHalfOpen().set(Points.FWS_DP, dpPa, 300);
    }

    private static Rig settledHalfOpen() {
        return Rig.of(WATER)
                .settled(promisedConductance(WATER), 0.9 * TCS_FLOW, 0.6 * FWS_FLOW, 30, 0.7 * DUTY_W)
                .set(Points.FWS_VALVE_POSITION, 0.5, 0);
    }

    private static void openValve(Rig rig) {
        rig.set(Points.FWS_VALVE_POSITION, 1, 0);
    }

    private static double promisedConductance(Nameplate nameplate) {
        return 1
                / Rig.value(new Design(nameplate, IndicatorSettings.DEFAULT).promised())
                        .resistanceKPerW();
    }
}
