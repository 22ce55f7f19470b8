package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import io.loopwarden.exchanger.CleaningPlan;
import io.loopwarden.exchanger.ExchangerSides;
import io.loopwarden.exchanger.FoulingDay;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.exchanger.FoulingSettings;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** NE 107 signals and the sentences beside the figures. */
class SignalsTest {

    private static final Computed<FoulingRecord> NO_RECORD =
            Computed.unavailable(Reason.BASELINE_MISSING, "Nothing is remembered.");

    private static final Nameplate NAMEPLATE = Rig.nameplate(CoolantSpec.WATER, SensorClass.DEFAULT);
    private static final Design DESIGN = new Design(NAMEPLATE, IndicatorSettings.DEFAULT);

    @ParameterizedTest
    @CsvSource(textBlock = """
            # reserve, u,     signal
             1.12,     0.03,  GOOD
             1.05,     0.03,  GOOD
             1.04,     0.03,  MAINTENANCE_REQUIRED
             0.99,     0.03,  MAINTENANCE_REQUIRED
             0.96,     0.03,  MAINTENANCE_REQUIRED
             0.95,     0.03,  OUT_OF_SPECIFICATION
             1.00,     0.00,  GOOD
            """)
    void reserveMakesTheHeatTransferSignal(double reserve, double u, Ne107 signal) {
        FunctionSignal judged = Signals.heatTransfer(Computed.of(new Estimate(reserve, u)), NO_RECORD);
        assertThat(judged.signal()).isEqualTo(signal);
        assertThat(judged.judged()).isTrue();
    }

    @ParameterizedTest
    @CsvSource(textBlock = """
            INPUT_MISSING,       FAILURE, true
            INPUT_STALE,         FAILURE, true
            INPUT_BAD,           FAILURE, true
            INPUT_IMPLAUSIBLE,   FAILURE, true
            NOT_STEADY,          GOOD,    false
            NOT_OBSERVABLE,      GOOD,    false
            NOT_RUNNING,         GOOD,    false
            OUTSIDE_VALID_RANGE, GOOD,    false
            """)
    void aMissingBalanceIsAFailureOnlyWhereTheInstrumentsAreToBlame(Reason reason, Ne107 signal, boolean judged) {
        FunctionSignal said =
                Signals.instruments(Computed.unavailable(reason, "Because of it."), IndicatorSettings.DEFAULT);
        assertThat(said.signal()).isEqualTo(signal);
        assertThat(said.judged()).isEqualTo(judged);
        assertThat(said.reason()).contains("Because of it.");
    }

    @Test
    void aSensorThatIsGoneIsNoFaultOfHeatTransfer() {
        FunctionSignal said = Signals.heatTransfer(Computed.unavailable(Reason.INPUT_BAD, "It is gone."), NO_RECORD);
        assertThat(said.signal()).isEqualTo(Ne107.GOOD);
        assertThat(said.judged()).isFalse();
    }

    @ParameterizedTest
    @CsvSource({"0.03, GOOD", "-0.05, MAINTENANCE_REQUIRED", "0.07, OUT_OF_SPECIFICATION"})
    void closureMakesTheInstrumentsSignal(double closure, Ne107 signal) {
        FunctionSignal judged =
                Signals.instruments(Computed.of(new Estimate(closure, 0.02)), IndicatorSettings.DEFAULT);
        assertThat(judged.signal()).isEqualTo(signal);
    }

    @Test
    void theWorstFunctionSpeaksForTheUnit() {
        FunctionSignal maintenance = signal(Ne107.MAINTENANCE_REQUIRED);
        FunctionSignal specification = signal(Ne107.OUT_OF_SPECIFICATION);
        FunctionSignal check = signal(Ne107.FUNCTION_CHECK);
        FunctionSignal failure = signal(Ne107.FAILURE);
        assertThat(Signals.worst(List.of())).isEqualTo(Ne107.GOOD);
        assertThat(Signals.worst(List.of(specification, maintenance))).isEqualTo(Ne107.OUT_OF_SPECIFICATION);
        assertThat(Signals.worst(List.of(specification, check))).isEqualTo(Ne107.FUNCTION_CHECK);
        assertThat(Signals.worst(List.of(failure, check))).isEqualTo(Ne107.FAILURE);
    }

    private static FunctionSignal signal(Ne107 signal) {
        return new FunctionSignal(UnitFunction.HEAT_TRANSFER, signal, true, "for the test");
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            approach               | 4.02    | 0.09   | The approach is 4.0 ± 0.2 K; at rated duty 5.0 K is promised.
            tcs-duty               | 903e3   | 5.2e3  | The racks give off 903 ± 10 kW.
            fws-duty               | 1.003e6 | 5.2e3  | Facility water takes up 1.00 ± 0.01 MW.
            duty                   | 700e3   | 5.2e3  | The unit moves 700 ± 10 kW, 50 % of rated duty.
            heat-balance-closure   | -0.008  | 0.0105 | The heat balance closes to 0.8 % (allowed 2.1 %).
            heat-balance-closure   | 0.03    | 0.0105 | The heat balance is open by 3.0 % (allowed 2.1 %): the TCS side says more; look for an instrument that is off.
            ua                     | 281e3   | 3.06e3 | UA is 281 ± 6 kW/K at the flows of today.
            approach-at-rated-duty | 4.6     | 0.102  | Could still carry 1.40 MW at 4.6 ± 0.2 K; it promised 5.0 K.
            approach-at-rated-duty | 5.6     | 0.102  | Could carry 1.40 MW at 5.6 ± 0.2 K; it promised 5.0 K.
            duty-at-rated-approach | 1.53e6  | 3.06e4 | At 5.0 K approach it could carry 1.53 ± 0.06 MW, rated are 1.40 MW.
            heat-transfer-reserve  | 1.12    | 0.0204 | Could carry 112 ± 4 % of rated duty at rated approach.
            approach-at-design-temperature | 4.6 | 0.102 | With facility water at 30.0 °C it would carry 1.40 MW at 4.6 ± 0.2 K.
            sensor-agreement       | 0.4     | 0       | Sensors as good as stated disagree as much as these in 40.0 % of cases.
            fouling-pumping-energy | 120     | 10      | Deposits cost 120 ± 20 kWh a week of facility pumping.
            fouling-lost-free-cooling | 2.5  | 0.26    | Deposits cost 2.5 ± 0.5 h of free cooling a week.
            cleaning-interval      | 180     | 10.2    | At the present growth it costs least to clean every 180 ± 20 days.
            fouling-resistance     | 3.1e-7  | 2.04e-8 | Deposits have added 310 ± 40 K/GW since the baseline.
            cleanliness            | 0.942   | 0.00408 | UA is 94.2 ± 0.8 % of the baseline's at the same flows.
            days-to-limit          | 43      | 4.08   | At the present growth of deposits 5.0 K at 1.40 MW holds for 43 ± 8 days more.
            """)
    void aFigureAsASentence(String key, double value, double u, String sentence) {
        Indicator indicator = Indicators.ALL.stream()
                .filter(i -> i.key().equals(key))
                .findFirst()
                .orElseThrow();
        IndicatorResult result = new IndicatorResult(
                key, indicator.function(), indicator.unit(), Rig.FROM, Rig.TO, Computed.of(new Estimate(value, u)));
        assertThat(Sentences.of(result, DESIGN)).isEqualTo(sentence);
    }

    @Test
    void everyIndicatorHasASentenceOfItsOwn() {
        assertThat(Indicators.ALL).allSatisfy(i -> {
            IndicatorResult result = new IndicatorResult(
                    i.key(), i.function(), i.unit(), Rig.FROM, Rig.TO, Computed.of(new Estimate(1, 0.1)));
            assertThat(Sentences.of(result, DESIGN)).doesNotStartWith(i.key() + " is ");
        });
    }

    @Test
    void theSentenceBehindTheApproachTellsWhatTheControllerHides() {
        Computed<Estimate> approach = Computed.of(new Estimate(4.02, 0.05));
        Computed<Estimate> valve = Computed.of(new Estimate(0.71, 0));
        Computed<Estimate> rated = Computed.of(new Estimate(5.6, 0.1));
        assertThat(Sentences.behindTheApproach(approach, valve, rated, NAMEPLATE))
                .isEqualTo(
                        "The approach reads 4.0 K, held with the valve 71 % open; fully open and at 1.40 MW it would be"
                                + " 5.6 ± 0.2 K, 5.0 K is promised.");
        assertThat(Sentences.behindTheApproach(
                        approach, valve, Computed.unavailable(Reason.NOT_STEADY, "It moved."), NAMEPLATE))
                .isEqualTo("The approach reads 4.0 K, held with the valve 71 % open; what it would be at rated duty"
                        + " cannot be said now.");
        assertThat(Sentences.behindTheApproach(
                        approach, Computed.unavailable(Reason.INPUT_MISSING, "None."), rated, NAMEPLATE))
                .contains("how far the valve is open to hold it is not known");
    }

    @ParameterizedTest
    @CsvSource({
        "0.005, 2, 0.01",
        "-0.004, 2, 0.00",
        "-1.25, 1, −1.3",
        "999.96, 1, 1000.0",
        "12, 0, 12",
        "1e300, 1, 1.0E300"
    })
    void numbersAreRoundedHalfUpWithoutAMinusZero(double value, int decimals, String text) {
        assertThat(Words.fixed(value, decimals)).isEqualTo(text);
    }

    /** A unit with reserve enough: 1.5 % of UA is told, 6 % asks for maintenance, and so do 20 days to the limit. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # share of UA, days, fouled, signal
            0.015, 300, true,  GOOD
            0.06,  300, true,  MAINTENANCE_REQUIRED
            0.015, 20,  true,  MAINTENANCE_REQUIRED
            0.06,  300, false, GOOD
            """)
    void provenDepositsAskForMaintenance(double share, double days, boolean fouled, Ne107 expected) {
        double clean = 4e-6;
        double resistance = clean * share / (1 - share);
        FoulingHistory none = FoulingHistory.begin(
                        Rig.nameplate(CoolantSpec.WATER, SensorClass.DEFAULT),
                        DESIGN.exchanger(),
                        FoulingSettings.DEFAULT)
                .fold(h -> h, gap -> fail(gap.detail()));
        FoulingDay day = new FoulingDay(20_000, 20, 0, 1, resistance, clean, Collections.nCopies(12, 0.0));
        FoulingHistory history = new FoulingHistory(
                FoulingSettings.DEFAULT,
                none.model(),
                Optional.of(Rig.FROM),
                List.of(),
                List.of(day),
                Optional.empty(),
                List.of(),
                List.of(),
                Rig.FROM);
        Computed<Estimate> missing = Computed.unavailable(Reason.BASELINE_MISSING, "");
        FoulingRecord record = new FoulingRecord(
                Rig.FROM,
                history,
                Computed.unavailable(Reason.BASELINE_MISSING, ""),
                Computed.of(new Estimate(days, 1)),
                Computed.of(new Estimate(resistance, 1e-8)),
                fouled,
                new CleaningPlan(missing, missing, Computed.unavailable(Reason.BASELINE_MISSING, "")),
                ExchangerSides.NEW);
        FunctionSignal signal = Signals.heatTransfer(Computed.of(new Estimate(1.2, 0.02)), Computed.of(record));
        assertThat(signal.signal()).isEqualTo(expected);
        assertThat(signal.reason().contains("Deposits have taken")).isEqualTo(fouled);
    }
}
