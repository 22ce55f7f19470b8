package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.detailOf;
import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.exchanger.Stream.Meter;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.time.Duration;
import java.time.Instant;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;

class FoulingHistoryTest {

    private static final Instant START = Instant.parse("2026-11-02T00:00:00Z");
    private static final int LEARNING_DAYS = 6;
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
    private static final CleanModel AS_PROMISED = valueOf(CleanLearning.fromNameplate(NAMEPLATE, EXCHANGER));
    private static final double CLEAN = 4.5e-6;

    private final Random random = new Random(1);

    private static FoulingHistory nothingYet() {
        return valueOf(FoulingHistory.begin(NAMEPLATE, EXCHANGER, FoulingSettings.DEFAULT));
    }

    /** A window a quarter of an hour long of a unit as promised, at a load that follows the hour. */
    private SteadyState window(Instant from, double foulingKPerW) {
        double hour = from.getEpochSecond() / 3600.0 % 24;
        double load = 0.6 + 0.2 * Math.sin(hour / 24 * 2 * Math.PI) + 0.03 * random.nextGaussian();
        RatedConditions conditions = new RatedConditions(load * 1.3e6, 0.027, 0.030 * load, 27);
        FoulingEstimate fouling = new FoulingEstimate(
                new Estimate(foulingKPerW, 0), new Estimate(CLEAN, 0), 0, Collections.nCopies(CleanModel.SIZE, 0.0), 0);
        double approach = valueOf(conditions.approachK(AS_PROMISED, fouling)).value();
        ExchangerState s = valueOf(conditions.stateAt(EXCHANGER, approach));
        ExchangerState measured = new ExchangerState(
                s.hotFlowM3PerS(),
                s.coldFlowM3PerS(),
                s.hotInletC() + 0.003 * random.nextGaussian(),
                s.hotOutletC() + 0.003 * random.nextGaussian() - 0.08,
                s.coldInletC() + 0.003 * random.nextGaussian() + 0.05,
                s.coldOutletC() + 0.003 * random.nextGaussian());
        return new SteadyState(
                from, from.plus(Duration.ofMinutes(15)), measured, List.of(3e-6, 3e-6, 0.003, 0.003, 0.003, 0.003));
    }

    private FoulingHistory days(FoulingHistory from, int first, int last, IntToDoubleFunction foulingOnDay) {
        FoulingHistory history = from;
        for (int hour = 24 * first; hour < 24 * last; hour++) {
            history = history.after(window(START.plus(Duration.ofHours(hour)), foulingOnDay.applyAsDouble(hour / 24)));
        }
        return history;
    }

    @Test
    void beforeTheBaselineFoulingIsAgainstTheNameplateAndWide() {
        FoulingHistory history = nothingYet();
        FoulingEstimate f = valueOf(history.fouling(window(START, 0)));
        assertThat(f.resistanceKPerW().standardUncertainty()
                        / f.cleanResistanceKPerW().value())
                .isGreaterThan(0.1);
        assertThat(history.stillLearning().orElseThrow()).contains("120 h", "36 steady windows");
        assertThat(reasonOf(FoulingTrend.level(history))).isEqualTo(Reason.BASELINE_MISSING);
        assertThat(reasonOf(FoulingTrend.forecast(history, NAMEPLATE))).isEqualTo(Reason.BASELINE_MISSING);
    }

    /** At unchanged flows all differences grow with load: at the load that is named the same sensors know UA to the limit. */
    @Test
    void atLowLoadTheReasonNamesTheLoadThatWouldDo() {
        double rangeK = 1;
        String detail = detailOf(nothingYet().conductanceWPerK(low(rangeK)));
        assertThat(detail).contains("limit 20 %", "observable from ");
        double factor = Double.parseDouble(detail.replaceAll(".*observable from ([0-9.]+) times.*", "$1"));
        assertThat(factor).isGreaterThan(1.5);
        assertThat(reasonOf(nothingYet().conductanceWPerK(low(0.8 * factor * rangeK))))
                .isEqualTo(Reason.NOT_OBSERVABLE);
        Estimate there = valueOf(nothingYet().conductanceWPerK(low(1.1 * factor * rangeK)));
        assertThat(there.standardUncertainty() / there.value()).isBetween(0.1, 0.21);
    }

    private static SteadyState low(double rangeK) {
        double approachK = 0.4 * rangeK;
        ExchangerState s =
                new ExchangerState(0.03, 0.03, 30 + approachK + rangeK, 30 + approachK, 30, 30 + rangeK * 0.999);
        return new SteadyState(
                START, START.plus(Duration.ofMinutes(15)), s, List.of(3e-6, 3e-6, 0.003, 0.003, 0.003, 0.003));
    }

    @Test
    void aCleanUnitIsNotCalledAndAFoulingOneIs() {
        FoulingHistory learnt = days(nothingYet(), 0, LEARNING_DAYS, day -> 0);
        assertThat(learnt.learntAt()).isPresent();
        assertThat(learnt.learning()).isEmpty();
        FoulingHistory clean = days(learnt, LEARNING_DAYS, 20, day -> 0);
        assertThat(valueOf(FoulingTrend.fouled(clean))).isFalse();
        FoulingHistory fouling = days(learnt, LEARNING_DAYS, 20, day -> 0.01 * CLEAN * (day - 6));
        assertThat(valueOf(FoulingTrend.fouled(fouling))).isTrue();
        double truth = 0.01 * CLEAN * 11;
        Estimate level = valueOf(FoulingTrend.level(fouling));
        assertThat(truth).isBetween(level.lower95(), level.upper95());
    }

    @Test
    void aCleaningIsFoundAndTheTrendBeginsAnew() {
        FoulingHistory learnt = days(nothingYet(), 0, LEARNING_DAYS, day -> 0);
        FoulingHistory cleaned =
                days(learnt, LEARNING_DAYS, 32, day -> day < 25 ? 0.008 * CLEAN * (day - 5) : 0.03 * CLEAN);
        Cleaning cleaning = cleaned.cleanings().get(0);
        assertThat(cleaned.cleanings()).hasSize(1);
        assertThat(cleaning.epochDay() - START.getEpochSecond() / 86_400).isBetween(24L, 25L);
        CleaningEffect effect = valueOf(cleaning.effect());
        assertThat(valueOf(effect.recoveredShare()).value()).isCloseTo(0.78, within(0.08));
        assertThat(cleaned.daysSinceCleaning())
                .hasSizeLessThan(8)
                .allSatisfy(d -> assertThat(d.resistanceKPerW()).isCloseTo(0.03 * CLEAN, within(0.01 * CLEAN)));
    }

    /** A drop too small to be found by itself: a tenth of what was there. */
    @Test
    void aWrittenCleaningIsAChangePointHoweverLittleItBrought() {
        FoulingHistory learnt = days(nothingYet(), 0, LEARNING_DAYS, day -> 0);
        FoulingHistory before = days(learnt, LEARNING_DAYS, 20, day -> 0.005 * CLEAN * (day - 5));
        long day = START.getEpochSecond() / 86_400 + 19;
        FoulingHistory written = before.cleanedOn(List.of(day));
        assertThat(written.daysSinceCleaning()).isEmpty();
        FoulingHistory after = days(written, 20, 26, d -> 0.054 * CLEAN);
        assertThat(days(before, 20, 26, d -> 0.054 * CLEAN).cleanings()).isEmpty();
        assertThat(after.cleanings()).singleElement().satisfies(cleaning -> {
            assertThat(cleaning.written()).isTrue();
            assertThat(cleaning.before().value() - cleaning.after().value())
                    .isCloseTo(0.006 * CLEAN, within(0.002 * CLEAN));
        });
        assertThat(after.daysSinceCleaning()).hasSize(5);
        assertThat(after.cleanedOn(List.of()).cleanings())
                .as("the entry is withdrawn")
                .isEmpty();
        assertThat(after.cleanedOn(List.of()).daysSinceCleaning()).hasSizeGreaterThan(15);
    }

    @Test
    void aWrittenCleaningTakesThePlaceOfTheOneThatWasFound() {
        FoulingHistory learnt = days(nothingYet(), 0, LEARNING_DAYS, day -> 0);
        FoulingHistory found =
                days(learnt, LEARNING_DAYS, 32, day -> day < 25 ? 0.008 * CLEAN * (day - 5) : 0.03 * CLEAN);
        long day = START.getEpochSecond() / 86_400 + 25;
        assertThat(found.cleanings()).hasSize(1);
        assertThat(found.cleanedOn(List.of(day)).cleanings())
                .singleElement()
                .satisfies(c -> assertThat(c.written()).isTrue());
    }

    @Test
    void aWindowThatOverlapsTheLastIsNotTakenTwice() {
        SteadyState first = window(START, 0);
        FoulingHistory once = nothingYet().after(first);
        assertThat(once.learning()).hasSize(1);
        assertThat(once.after(first)).isSameAs(once);
        assertThat(once.after(window(START.plusSeconds(600), 0))).isSameAs(once);
    }

    @Test
    void theSameWindowsGiveTheSameHistoryToTheLastBit() {
        FoulingHistory one = new FoulingHistoryTest().days(nothingYet(), 0, 9, day -> 0);
        FoulingHistory other = new FoulingHistoryTest().days(nothingYet(), 0, 9, day -> 0);
        assertThat(one.days()).isNotEmpty().isEqualTo(other.days());
        assertThat(one.model().belief().mean()).isEqualTo(other.model().belief().mean());
    }
}
