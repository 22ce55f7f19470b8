package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.exchanger.CleanLearning;
import io.loopwarden.exchanger.CleanModel;
import io.loopwarden.exchanger.Exchanger;
import io.loopwarden.exchanger.ExchangerState;
import io.loopwarden.exchanger.RatedConditions;
import io.loopwarden.exchanger.Stream;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Points;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Covariance;
import io.loopwarden.statistics.Estimate;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The indicators beside the learning model of the exchanger, which reconciles, propagates and projects in its own way. */
class SecondOpinionTest {

    @ParameterizedTest(name = "{0}: UA {1} W/K, flows {2} and {3}, load {4}")
    @CsvSource(textBlock = """
            WATER, 300e3, 1.0, 1.0, 1.0
            WATER, 260e3, 0.9, 0.6, 0.7
            WATER, 220e3, 0.8, 0.9, 0.8
            PG25,  300e3, 1.0, 0.9, 0.9
            PG25,  240e3, 0.9, 0.7, 0.7
            """)
    void bothWaysAgreeOnConductanceAndApproachAtRatedDuty(
            String coolant, double uaWPerK, double tcsRatio, double fwsRatio, double load) {
        Nameplate n = Rig.nameplate(coolant.equals("PG25") ? Rig.PG25 : CoolantSpec.WATER, Rig.CALIBRATED);
        double tcsFlow = tcsRatio * n.ratedTcsFlowM3PerS();
        double fwsFlow = fwsRatio * n.ratedFwsFlowM3PerS();
        Rig rig = Rig.of(n)
                .settled(uaWPerK, tcsFlow, fwsFlow, 30, load * n.ratedDutyW())
                .set(Points.FWS_VALVE_POSITION, 0.6, 0)
                .set(Points.FWS_DP, 120_000, 300);

        Exchanger exchanger = new Exchanger(
                new Stream(Coolant.of(n.tcsCoolant()), Stream.Meter.AT_OUTLET),
                new Stream(Coolant.of(n.fwsCoolant()), Stream.Meter.AT_INLET));
        ExchangerState state =
                new ExchangerState(tcsFlow, fwsFlow, mean(rig, 0), mean(rig, 1), mean(rig, 2), mean(rig, 3));
        Estimate ua = Rig.value(exchanger
                .reconcile(state, exchanger.uncertainty(state, n.sensors()))
                .flatMap(exchanger::conductanceWPerK));
        assertThat(rig.estimate("ua").value()).isCloseTo(ua.value(), Percentage.withPercentage(0.05));
        assertThat(rig.estimate("ua").standardUncertainty())
                .isCloseTo(ua.standardUncertainty(), Percentage.withPercentage(1));

        CleanModel model = Rig.value(CleanLearning.fromNameplate(n, exchanger));
        Covariance noNoise = Covariance.independent(0, 0, 0, 0, 0, 0, 0, 0);
        Estimate projected = Rig.value(model.fouling(state, noNoise)
                .flatMap(fouling -> new RatedConditions(
                                n.ratedDutyW(), n.ratedTcsFlowM3PerS(), n.ratedFwsFlowM3PerS(), 30)
                        .approachK(model, fouling)));
        Estimate approach = rig.estimate("approach-at-rated-duty");
        // the priors differ a little (wall share 0.10 and 0.13), far less than either is sure of
        assertThat(approach.value()).isCloseTo(projected.value(), within(0.5 * approach.standardUncertainty()));
    }

    private static double mean(Rig rig, int input) {
        return Rig.value(SteadyExchanger.of(rig.design(), rig.means())).inputs()[input];
    }
}
