package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.detailOf;
import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.statistics.Computed.Reason;
import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** Twelve windows made from wall 0.60, hot 1.70, cold 1.50 ×1e-6 K/W and exponent 0.70, fitted independently as well. */
class WilsonFitTest {

    private static final double[] HOT_FLOW = {1, .9, .8, .7, .6, .5, 1, 1, 1, 1, .7, .5};
    private static final double[] COLD_FLOW = {1, 1, 1, 1, 1, 1, .85, .7, .55, .4, .7, .5};
    private static final double[] CLEAN_KW_PER_K = {
        263.157895,
        254.445267,
        244.654127,
        233.528731,
        220.713260,
        205.691139,
        251.210191,
        236.663571,
        218.365006,
        194.223154,
        212.425366,
        172.460912
    };
    private static final double[] NOISY_KW_PER_K = {
        265.263, 253.173, 247.345, 231.427, 221.375, 203.223, 252.717, 237.137, 216.836, 196.165, 211.576, 171.944
    };

    private static double[] films(double[] flows) {
        return Arrays.stream(flows).map(f -> Math.pow(f, 0.7)).toArray();
    }

    private static double[] watts(double[] kilowatts) {
        return Arrays.stream(kilowatts).map(v -> 1e3 * v).toArray();
    }

    private static double[] model(double[] hotFlow, double[] coldFlow) {
        double[] ua = new double[hotFlow.length];
        for (int i = 0; i < ua.length; i++) {
            ua[i] = 1 / (0.6e-6 + 1.7e-6 / Math.pow(hotFlow[i], 0.7) + 1.5e-6 / Math.pow(coldFlow[i], 0.7));
        }
        return ua;
    }

    @Test
    void exactDataGiveTheParametersBack() {
        double[] ua = model(HOT_FLOW, COLD_FLOW);
        for (int i = 0; i < ua.length; i++) {
            assertThat(ua[i]).isCloseTo(1e3 * CLEAN_KW_PER_K[i], within(6e-4));
        }
        WilsonFit fit = valueOf(WilsonFit.of(films(HOT_FLOW), films(COLD_FLOW), ua));
        assertThat(fit.wall().value()).isCloseTo(0.6e-6, withinPercentage(1e-7));
        assertThat(fit.hot().value()).isCloseTo(1.7e-6, withinPercentage(1e-7));
        assertThat(fit.cold().value()).isCloseTo(1.5e-6, withinPercentage(1e-7));
    }

    /** Conductances are printed to 1 W/K, 4e-6 of the value; parameters to their last digit but one. */
    @Test
    void noisyDataGiveTheSameAnswerAsAnIndependentFit() {
        WilsonFit fit = valueOf(WilsonFit.of(films(HOT_FLOW), films(COLD_FLOW), watts(NOISY_KW_PER_K)));
        assertThat(1e6 * fit.wall().value()).isCloseTo(0.52847, within(1e-4));
        assertThat(1e6 * fit.hot().value()).isCloseTo(1.77446, within(1e-4));
        assertThat(1e6 * fit.cold().value()).isCloseTo(1.48604, within(1e-4));
        assertThat(1e6 * fit.wall().standardUncertainty()).isCloseTo(0.06724, within(5e-5));
        assertThat(1e6 * fit.hot().standardUncertainty()).isCloseTo(0.04063, within(5e-5));
        assertThat(1e6 * fit.cold().standardUncertainty()).isCloseTo(0.03221, within(5e-5));
        assertThat(fit.hotColdCorrelation()).isCloseTo(0.1192, within(5e-4));
        assertThat(fit.residualSumOfSquares()).isCloseTo(9.412485e-15, withinPercentage(0.2));
        assertThat(fit.conditionNumber()).isCloseTo(16.72, within(0.005));
        assertThat(fit.conductanceWPerK(1, 1)).isCloseTo(263_924.2, within(20.0));
    }

    /** All windows at equal flows: the two films are one column twice. */
    @Test
    void equalFlowsCannotTellTheFilmsApart() {
        double[] flows = {1, .9, .8, .7, .6, .5};
        double[] ua = model(flows, flows);
        assertThat(reasonOf(WilsonFit.of(films(flows), films(flows), ua))).isEqualTo(Reason.NOT_OBSERVABLE);
        assertThat(detailOf(WilsonFit.of(films(flows), films(flows), ua))).contains("condition number");
    }

    @Test
    void threeWindowsAreTooFew() {
        double[] three = {1, .8, .6};
        assertThat(reasonOf(WilsonFit.of(three, three, model(three, three)))).isEqualTo(Reason.BASELINE_MISSING);
    }
}
