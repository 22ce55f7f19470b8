package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Filters of a unit with 32 L/s rated flow and 80 kPa terminal differential pressure, 40 % of a clean filter's being viscous. */
class FiltrationTest {

    private static final double RATED = 0.032;

    private static Rig at(double flow, CoolantSpec coolant, double temperatureC, double... dpPa) {
        Rig rig = Rig.of(Rig.nameplate(coolant, SensorClass.DEFAULT));
        rig.set(Points.TCS_SUPPLY_TEMPERATURE, temperatureC, 0.1)
                .set(Points.TCS_RETURN_TEMPERATURE, temperatureC, 0.1)
                .tcsFlow(flow);
        for (int i = 0; i < dpPa.length; i++) {
            rig.set(Points.numbered("tcs.filter.{n}.dp", i + 1), dpPa[i], 577);
        }
        return rig;
    }

    /** The ratios of the worked cases: 6.84 of 15 kPa at three fifths of flow, whatever the loading. */
    @ParameterizedTest
    @CsvSource({"1.0, 1, 15000", "0.6, 0.456, 15000", "0.6, 0.912, 30000", "0.6, 2.432, 80000"})
    void differentialPressureIsCarriedToRatedFlow(double flowRatio, double measuredRatio, double atRatedPa) {
        Estimate dp = at(flowRatio * RATED, CoolantSpec.WATER, 40, 15_000 * measuredRatio)
                .estimate("filter-dp-at-rated-flow");
        assertThat(dp.value()).isCloseTo(atRatedPa, within(1.0));
    }

    @Test
    void theMostLoadedFilterDecidesAndIsNamed() {
        Rig rig = at(RATED, CoolantSpec.WATER, 40, 20_000, 40_000, 30_000, 25_000);
        IndicatorResult reserve = result(rig);
        assertThat(reserve.subject()).isEqualTo("filter 2");
        assertThat(rig.estimate("filtration-reserve").value()).isCloseTo(2, within(1e-9));
        assertThat(Sentences.of(reserve, rig.design()))
                .isEqualTo("Filter 2 takes 50 ± 2 % of its terminal differential pressure, carried to rated flow.");
    }

    private static IndicatorResult result(Rig rig) {
        return Indicators.evaluate(rig.evidence()).stream()
                .filter(r -> r.key().equals("filtration-reserve"))
                .findFirst()
                .orElseThrow();
    }

    /** A cold fill raises a clean filter's pressure; what is carried to 40 °C stays within the uncertainty of the viscous share. */
    @Test
    void coldCoolantDoesNotLookLikeALoadedFilter() {
        double cold = 15_000 * 31.7189 / 21.5953;
        Estimate dp = at(RATED, Rig.PG25, 20, cold).estimate("filter-dp-at-rated-flow");
        assertThat(dp.value()).isCloseTo(15_000, within(2.5 * dp.standardUncertainty()));
        assertThat(dp.value()).isLessThan(0.8 * cold);
    }

    @Test
    void atLowFlowItIsSaidThatNothingCanBeSaid() {
        assertThat(reason(at(0.2 * RATED, CoolantSpec.WATER, 40, 900))).isEqualTo(Reason.NOT_OBSERVABLE);
        assertThat(reason(at(RATED, CoolantSpec.WATER, 40, 900))).isEqualTo(Reason.NOT_OBSERVABLE);
        assertThat(reason(at(RATED, CoolantSpec.WATER, 40))).isEqualTo(Reason.INPUT_MISSING);
    }

    private static Reason reason(Rig rig) {
        return rig.evaluate("filtration-reserve").fold(v -> null, Computed.Unavailable::reason);
    }

    @ParameterizedTest
    @CsvSource({
        "60000, GOOD, Filter 1 takes 75 ± 2 % of its terminal differential pressure",
        "79000, GOOD, Filter 1 takes 99 ± 2 %",
        "81000, MAINTENANCE_REQUIRED, it is due for change",
        "95000, OUT_OF_SPECIFICATION, it is overdue for change"
    })
    void aFilterThatIsDueAsksForMaintenance(double dpPa, Ne107 signal, String words) {
        FunctionSignal said = Signals.filtration(result(at(RATED, CoolantSpec.WATER, 40, dpPa)));
        assertThat(said.signal()).isEqualTo(signal);
        assertThat(said.reason()).contains(words);
    }

    @Test
    void aUnitWithoutThesePointsIsNotJudgedAndNotFailed() {
        FunctionSignal said = Signals.filtration(result(at(RATED, CoolantSpec.WATER, 40)));
        assertThat(said.signal()).isEqualTo(Ne107.GOOD);
        assertThat(said.judged()).isFalse();
    }
}
