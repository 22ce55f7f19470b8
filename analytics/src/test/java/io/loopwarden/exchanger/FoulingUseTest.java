package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.exchanger.Stream.Meter;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.time.Duration;
import java.time.Instant;
import java.util.Collections;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FoulingUseTest {

    private static final Instant BEGIN = Instant.parse("2026-11-02T00:00:00Z");
    private static final Exchanger EXCHANGER = new Exchanger(
            new Stream(Coolant.of(CoolantSpec.WATER), Meter.AT_OUTLET),
            new Stream(Coolant.of(CoolantSpec.WATER), Meter.AT_INLET));
    private static final Nameplate NAMEPLATE = new Nameplate(
            "Quillmere",
            "Q2",
            1.3e6,
            4,
            0.030,
            0.030,
            OptionalDouble.empty(),
            200e3,
            30,
            CoolantSpec.WATER,
            CoolantSpec.WATER,
            2,
            1,
            1,
            2,
            0.4,
            0.1,
            100e3,
            OptionalDouble.of(60),
            SensorClass.DEFAULT);
    private static final CleanModel CLEAN = valueOf(CleanLearning.fromNameplate(NAMEPLATE, EXCHANGER));
    private static final double RESISTANCE = 3e-6;

    private static FoulingEstimate fouling(double resistanceKPerW) {
        return new FoulingEstimate(
                new Estimate(resistanceKPerW, 0),
                new Estimate(RESISTANCE, 0),
                0,
                Collections.nCopies(CleanModel.SIZE, 0.0),
                0);
    }

    private static double approachK(double fwsFlow, double foulingKPerW) {
        return valueOf(new RatedConditions(0.9e6, 0.028, fwsFlow, 27).approachK(CLEAN, fouling(foulingKPerW)))
                .value();
    }

    /** Worked forwards: what the search finds must give the clean exchanger today's approach; films follow temperature a little. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 5e-8, 2e-7, 5e-7})
    void withTheFlowFoundACleanExchangerHasTodaysApproach(double foulingKPerW) {
        double now = approachK(0.026, foulingKPerW);
        ExchangerState s = valueOf(new RatedConditions(0.9e6, 0.028, 0.026, 27).stateAt(EXCHANGER, now));
        FoulingUse use = valueOf(FoulingUse.of(CLEAN, s, fouling(foulingKPerW)));
        assertThat(approachK(0.026 - use.extraFlowM3PerS(), 0)).isCloseTo(now, within(0.01));
        assertThat(use.colderByK()).isCloseTo(now - approachK(0.026, 0), within(0.01));
        assertThat(use.extraFlowM3PerS() > 1e-6).isEqualTo(foulingKPerW > 0);
    }

    /**
     * 2 L/s more at 120 kPa are 240 W of hydraulic power, 0.4 kW at 60 % and 67.2 kWh a week; 0.5 K at 4 h/K are 2 h a week, which
     * at a fifth of 1 MW are 400 kWh. Growing by a hundredth of it a day, 467.2/7/100 kWh per day squared: T = sqrt(2·5000/0.667).
     */
    @Test
    void costAndIntervalByHand() {
        FoulingDraw draw = FoulingDraw.NONE;
        for (int hour = 0; hour < 24 * 8; hour++) {
            draw = draw.after(BEGIN.plus(Duration.ofHours(hour)), new FoulingUse(2e-3, 0.5), 120e3, 1e6);
        }
        CleaningPlan plan = draw.plan(
                BEGIN.plus(Duration.ofDays(8)),
                Computed.of(new Estimate(3e-7, 3e-8)),
                Computed.of(3e-9),
                CleaningCosts.DEFAULT);
        Estimate pumping = valueOf(plan.pumpingKWhPerWeek());
        assertThat(pumping.value()).isCloseTo(67.2, within(1e-9));
        assertThat(pumping.standardUncertainty()).isCloseTo(6.72, within(1e-9));
        assertThat(valueOf(plan.lostFreeCoolingHPerWeek()).value()).isCloseTo(2, within(1e-9));
        assertThat((double) valueOf(plan.interval()).days()).isCloseTo(Math.sqrt(1e4 / 0.6674), withinPercentage(1));
    }

    @Test
    void thinDepositsCostNothingThatCouldBeTold() {
        FoulingDraw draw = FoulingDraw.NONE.after(BEGIN, new FoulingUse(2e-3, 0.5), 120e3, 1e6);
        CleaningPlan plan = draw.plan(
                BEGIN.plus(Duration.ofDays(2)),
                Computed.of(new Estimate(3e-8, 3e-8)),
                Computed.of(3e-9),
                CleaningCosts.DEFAULT);
        assertThat(reasonOf(plan.pumpingKWhPerWeek())).isEqualTo(Reason.NOT_OBSERVABLE);
        assertThat(reasonOf(plan.interval())).isEqualTo(Reason.NOT_OBSERVABLE);
    }
}
