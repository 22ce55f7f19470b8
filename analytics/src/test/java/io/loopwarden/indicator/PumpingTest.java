package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Pumps of a unit that promises 32 L/s at 250 kPa and loses 100 kPa inside at that flow. The pump, made forwards here: 350 kPa at rated
 * flow and full speed is exactly what is promised, its shape 1.3.
 */
class PumpingTest {

    private static final double RATED = 0.032;

    /** The state that a pump of that strength settles in at a speed, racks taking {@code racks} times their promised resistance. */
    private static Rig settled(double strength, double speed, double racks, int running, boolean pumpDp) {
        double system = (250e3 * racks + 100e3) / (RATED * RATED);
        double curvature = 0.3 * 350e3 / (RATED * RATED) / (running * running);
        double flow = Math.sqrt(1.3 * 350e3 * strength * speed * speed / (curvature + system));
        double ratio = flow / RATED;
        Rig rig = Rig.of(Rig.nameplate(CoolantSpec.WATER, SensorClass.DEFAULT)).tcsFlow(flow);
        rig.set(Points.TCS_DP, 250e3 * racks * ratio * ratio, 577);
        for (int n = 1; n <= 2; n++) {
            boolean turns = n <= running;
            rig.set(Points.numbered("pump.{n}.speed", n), turns ? speed : 0, 0);
            if (pumpDp) {
                rig.set(Points.numbered("pump.{n}.dp", n), turns ? (250e3 * racks + 100e3) * ratio * ratio : 0, 577);
            }
            rig.set(Points.numbered("pump.{n}.power", n), turns ? 10_000 : 0, 0);
        }
        return rig;
    }

    @ParameterizedTest
    @CsvSource({"0.6, 1.0", "0.8, 1.0", "0.8, 1.5", "0.95, 0.9"})
    void aPumpAsPromisedHasExactlyWhatWasPromised(double speed, double racks) {
        Estimate reserve = settled(1, speed, racks, 1, true).estimate("pumping-reserve");
        assertThat(reserve.value()).isCloseTo(1, within(1e-9));
        assertThat(reserve.standardUncertainty()).isBetween(0.001, 0.05);
    }

    @Test
    void aWornPumpGivesAsMuchLessAsItsHeadLost() {
        Rig rig = settled(0.82, 0.8, 1.2, 1, true);
        double expected = Math.sqrt(1.3 * 350 * 0.82 / (0.3 * 350 + 350));
        assertThat(rig.estimate("pumping-reserve").value()).isCloseTo(expected, within(0.012));
        FunctionSignal signal = Signals.pumping(result(rig));
        assertThat(signal.signal()).isEqualTo(Ne107.OUT_OF_SPECIFICATION);
        assertThat(signal.reason())
                .startsWith("Pump 1 at full speed could give 91 ± ")
                .contains("out of reach");
    }

    private static IndicatorResult result(Rig rig) {
        return Indicators.evaluate(rig.evidence()).stream()
                .filter(r -> r.key().equals("pumping-reserve"))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void withHelpRunningOnePumpAloneIsStillWorkedOut() {
        Rig rig = settled(1, 0.7, 1, 2, true);
        assertThat(rig.estimate("pumping-reserve").value()).isCloseTo(1, within(0.01));
        assertThat(result(rig).subject()).isEqualTo("pumps 1, 2");
    }

    /** Without a pump's own pressure the unit's loss is a prior: nearly the same figure, less certain. */
    @Test
    void withoutPumpPressureTheFigureIsLessCertain() {
        Estimate with = settled(1, 0.8, 1.1, 1, true).estimate("pumping-reserve");
        Estimate without = settled(1, 0.8, 1.1, 1, false).estimate("pumping-reserve");
        assertThat(without.value()).isCloseTo(with.value(), within(2 * without.standardUncertainty()));
        assertThat(without.standardUncertainty()).isGreaterThan(with.standardUncertainty());
        assertThat(settled(1, 0.8, 1.1, 1, false).evaluate("pump-efficiency").isAvailable())
                .isFalse();
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.6, 0.8, 1.0})
    void inAClosedLoopFlowAtFullSpeedIsFlowOverSpeed(double speed) {
        double full = Math.sqrt(1.3 * 350e3 / (0.3 * 350e3 + 350e3)) * RATED;
        assertThat(settled(1, speed, 1, 1, true).estimate("pump-alone-flow").value())
                .isCloseTo(full, within(1e-9));
    }

    @Test
    void efficiencyLossAndRackResistance() {
        Rig rig = settled(1, 1, 1.2, 1, true);
        double flow = rig.means().of(Points.TCS_FLOW).fold(Estimate::value, gap -> 0.0);
        double dp = 400e3 * flow * flow / (RATED * RATED);
        assertThat(rig.estimate("pump-efficiency").value()).isCloseTo(dp * flow / 10_000, within(1e-9));
        assertThat(rig.estimate("internal-loss-at-rated-flow").value()).isCloseTo(100e3, within(1e-3));
        assertThat(rig.estimate("rack-resistance").value()).isCloseTo(1.2, within(1e-9));
    }

    @Test
    void withoutATurningPumpOrItsSpeedThereIsNoFigure() {
        Rig rig = settled(1, 0.8, 1, 1, true).set(Points.numbered("pump.{n}.speed", 1), 0, 0);
        assertThat(rig.evaluate("pumping-reserve").<Reason>fold(v -> null, gap -> gap.reason()))
                .isEqualTo(Reason.NOT_RUNNING);
        Rig unknown =
                Rig.of(Rig.nameplate(CoolantSpec.WATER, SensorClass.DEFAULT)).tcsFlow(RATED);
        assertThat(unknown.evaluate("pumping-reserve").<Reason>fold(v -> null, gap -> gap.reason()))
                .isEqualTo(Reason.INPUT_MISSING);
    }
}
