package io.loopwarden.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.indicator.FunctionSignal;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class UnitWatchTest {

    /** What a quarter of an hour is too short for. */
    private static final Set<String> NEEDS_HISTORY = Set.of(
            "days-to-limit",
            "filter-loading",
            "filter-days-to-change",
            "strainer-loading",
            "strainer-days-to-change",
            "pump-head-loss",
            "pump-efficiency-change",
            "rack-resistance-change",
            "valve-authority",
            "leak-suspicion",
            "unexplained-loss",
            "coolant-lost",
            "time-to-low-level",
            "coolant-content",
            "smallest-visible-loss",
            "hunting-amplitude",
            "hunting-period",
            "approach-at-design-temperature",
            "cleaning-recovered",
            "exchanger-tcs-dp-growth",
            "exchanger-fws-dp-growth",
            "fouling-pumping-energy",
            "fouling-lost-free-cooling",
            "cleaning-interval");

    /** What the bench does not measure. */
    private static final Set<String> NOT_MEASURED =
            Set.of("coolant-conductivity", "coolant-ph", "coolant-concentration", "reservoir-level");

    @Test
    void aSteadyQuarterOfAnHourGivesEveryFigure() {
        Bench bench = new Bench();
        bench.run(900);
        UnitFigures figures = bench.evaluate();
        assertThat(figures.results())
                .allSatisfy(r -> assertThat(r.value().isAvailable())
                        .as(r.key() + ": " + r.value())
                        .isEqualTo(!NEEDS_HISTORY.contains(r.key()) && !NOT_MEASURED.contains(r.key())));
        assertThat(figures.behindTheApproach())
                .startsWith(
                        "The approach reads 4.0 K, held with the valve 71 % open; fully open and at 1.40 MW it would");
        assertThat(List.copyOf(figures.latest().keySet())).hasSize(19).isSorted();
    }

    @Test
    void figuresSayWhichWindowTheyComeFrom() {
        Bench bench = new Bench();
        bench.run(900);
        assertThat(bench.result("ua").from()).isEqualTo(Bench.START);
        assertThat(bench.result("ua").to()).isEqualTo(bench.now());
        assertThat(bench.result("approach").from()).isEqualTo(bench.now().minusSeconds(10));
    }

    @Test
    void approachAndDutiesAreThereAfterTheFirstSecond() {
        Bench bench = new Bench();
        bench.run(1);
        assertThat(bench.figure("approach").isAvailable()).isTrue();
        assertThat(bench.figure("tcs-duty").isAvailable()).isTrue();
        assertThat(bench.reason("ua")).isEqualTo(Reason.NOT_STEADY);
        assertThat(bench.evaluate().summary()).isEqualTo(Ne107.GOOD);
    }

    @Test
    void conductanceIsThereAfterTwoMinutes() {
        Bench bench = new Bench();
        bench.run(80);
        assertThat(bench.detail("ua")).contains("the shortest steady window takes 120 s");
        bench.run(40);
        assertThat(bench.figure("ua").isAvailable()).isTrue();
    }

    @Test
    void aChangeShowsInTheApproachWithinTenSeconds() {
        Bench bench = new Bench();
        bench.run(200);
        bench.level(Points.TCS_SUPPLY_TEMPERATURE, 36, 0);
        bench.level(Points.FWS_SUPPLY_TEMPERATURE, 30, 0);
        bench.run(11);
        assertThat(bench.evaluate().result("approach").orElseThrow().value().map(a -> a.value()))
                .isEqualTo(Computed.of(6.0));
    }

    /** Live hears every sample as it comes, replay hears them shuffled and twice: the same figures to the last bit. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void lateRepeatedAndReorderedSamplesGiveTheSameFiguresToTheLastBit(long seed) {
        Bench bench = new Bench();
        bench.signal(Points.TCS_RETURN_TEMPERATURE, t -> 44 + 0.0002 * t + bench.noise(0.02));
        List<Sample> recorded = bench.record(1000);
        recorded.forEach(bench.watch::accept);

        List<Sample> shuffled = new ArrayList<>(recorded);
        shuffled.addAll(recorded.subList(3000, 5000));
        Collections.shuffle(shuffled, new Random(seed));
        UnitWatch replay = new UnitWatch(Bench.UNIT);
        shuffled.forEach(replay::accept);

        UnitFigures replayed = replay.evaluate(bench.now());
        UnitFigures live = bench.evaluate();
        assertThat(replayed.results()).isEqualTo(live.results());
        assertThat(replayed.signals()).isEqualTo(live.signals());
        assertThat(replayed.latest()).isEqualTo(live.latest());
    }

    @Test
    void replayAtTheSameInstantsGivesTheSameFiguresAndSignalsToTheLastBit() {
        Bench bench = new Bench();
        bench.signal(Points.TCS_FLOW, t -> (t > 700 && t < 720 ? 0.020 : 0.0242) + bench.noise(0.0001));
        UnitWatch replay = new UnitWatch(Bench.UNIT);
        for (int second = 0; second < 1200; second++) {
            List<Sample> samples = bench.nextSecond();
            samples.forEach(bench.watch::accept);
            Collections.reverse(samples);
            replay.accept(new Scan(Bench.UNIT.id(), bench.now(), samples));
            if (second % 20 == 0) {
                UnitFigures replayed = replay.evaluate(bench.now());
                UnitFigures live = bench.evaluate();
                assertThat(replayed.results()).isEqualTo(live.results());
                assertThat(replayed.signals()).isEqualTo(live.signals());
                assertThat(replayed.latest()).isEqualTo(live.latest());
            }
        }
    }

    @Test
    void evaluatingDoesNotChangeFigures() {
        Bench often = new Bench();
        Bench once = new Bench();
        for (int second = 0; second < 400; second++) {
            often.run(1);
            often.evaluate();
            once.run(1);
        }
        assertThat(often.evaluate().results()).isEqualTo(once.evaluate().results());
        assertThat(often.watch.memory()).isEqualTo(once.watch.memory());
    }

    @Test
    void aWrittenCleaningReachesTheFoulingHistoryAndItsWithdrawalToo() {
        Bench bench = new Bench();
        bench.run(400);
        MaintenanceEntry cleaning = entry(MaintenanceKind.CLEANING, Optional.of("exchanger.2"), Optional.empty());
        bench.watch.accept(cleaning);
        bench.watch.accept(entry(MaintenanceKind.CLEANING, Optional.of("fws.strainer"), Optional.empty()));
        bench.evaluate();
        assertThat(cleanedOn(bench)).containsExactly(Bench.START.getEpochSecond() / 86_400);
        bench.watch.accept(entry(MaintenanceKind.WITHDRAWAL, Optional.empty(), Optional.of(cleaning.id())));
        bench.evaluate();
        assertThat(cleanedOn(bench)).isEmpty();
    }

    private static List<Long> cleanedOn(Bench bench) {
        return bench.watch.fouling().fold(record -> record.history().cleanedOn(), gap -> List.<Long>of());
    }

    private static MaintenanceEntry entry(MaintenanceKind kind, Optional<String> part, Optional<UUID> withdraws) {
        return new MaintenanceEntry(
                UUID.randomUUID(),
                Bench.UNIT.id(),
                kind,
                part,
                Bench.START.plusSeconds(60),
                Bench.START.plusSeconds(120),
                "test",
                Bench.START.plusSeconds(130),
                "",
                Optional.empty(),
                Optional.empty(),
                withdraws);
    }

    @Test
    void aSampleOlderThanTheWindowIsCountedAndChangesNothing() {
        Bench bench = new Bench();
        bench.run(1000);
        UnitFigures before = bench.evaluate();
        bench.watch.accept(Sample.good(Points.TCS_FLOW, Bench.START.plusSeconds(5), 0.001));
        assertThat(bench.evaluate()).isEqualTo(before);
        assertThat(bench.watch.counts().tooOld()).isEqualTo(1);
    }

    @Test
    void aLateSampleDoesNotBecomeTheNewest() {
        Bench bench = new Bench();
        bench.run(10);
        Sample newest = bench.evaluate().latest().get(Points.TCS_DP);
        bench.watch.accept(Sample.good(Points.TCS_DP, bench.now().minusSeconds(3), 1));
        assertThat(bench.evaluate().latest().get(Points.TCS_DP)).isEqualTo(newest);
        assertThat(bench.watch.newestAt()).contains(bench.now());
    }

    @Test
    void samplesFromTheFutureAreCountedAndLeftOut() {
        Bench bench = new Bench();
        bench.run(300);
        UnitFigures before = bench.evaluate();
        Sample future = Sample.good(Points.TCS_FLOW, bench.now().plusSeconds(3600), 0.001);
        bench.watch.accept(new Scan(Bench.UNIT.id(), bench.now(), List.of(future)));
        UnitFigures after = bench.evaluate();
        assertThat(after.results()).isEqualTo(before.results());
        assertThat(after.clockOffS()).as("seconds behind").hasValue(-3600);
        assertThat(bench.watch.counts().ahead()).isEqualTo(1);
    }

    @Test
    void aScanOfAnotherUnitIsRefused() {
        Scan scan = new Scan(new UnitId("W-01"), Bench.START, List.of(Sample.good(Points.TCS_FLOW, Bench.START, 0.02)));
        assertThatThrownBy(() -> new Bench().watch.accept(scan))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("W-01")
                .hasMessageContaining("E-07");
    }

    @Test
    void aPointThatStopsIsStaleAfterAMinuteAndTheUnitFails() {
        Bench bench = new Bench();
        bench.run(900);
        bench.silence(Points.TCS_SUPPLY_TEMPERATURE);
        bench.run(59);
        assertThat(bench.figure("approach").isAvailable()).isTrue();
        bench.run(2);
        assertThat(bench.reason("approach")).isEqualTo(Reason.INPUT_STALE);
        assertThat(bench.reason("heat-transfer-reserve")).isEqualTo(Reason.INPUT_STALE);
        assertThat(bench.detail("ua")).contains("tcs.supply.temperature last came at 2026-11-25T10:15:00Z, 61 s ago");
        assertThat(bench.evaluate().summary()).isEqualTo(Ne107.FAILURE);
    }

    @Test
    void afterAGapSteadinessBeginsAnew() {
        Bench bench = new Bench();
        bench.run(900);
        bench.record(300);
        bench.run(30);
        assertThat(bench.reason("ua")).isEqualTo(Reason.NOT_STEADY);
        assertThat(bench.detail("ua")).contains("has come for 30 s");
        bench.run(100);
        assertThat(bench.figure("ua").isAvailable()).isTrue();
        assertThat(Duration.between(
                        bench.result("ua").from(), bench.result("ua").to()))
                .isEqualTo(Duration.ofMinutes(2));
    }

    @Test
    void missingBinsAreTolerated() {
        Bench bench = new Bench();
        List<Sample> recorded = bench.record(900);
        recorded.removeIf(s -> s.measuredAt().getEpochSecond() % 50 < 10);
        recorded.forEach(bench.watch::accept);
        assertThat(bench.figure("ua").isAvailable()).as(bench.detail("ua")).isTrue();
    }

    @Test
    void aSourceThatSendsAPointOnlyEveryFiftySecondsIsHeld() {
        Bench bench = new Bench();
        List<Sample> recorded = bench.record(900);
        recorded.removeIf(
                s -> s.point() == Points.FWS_VALVE_POSITION && s.measuredAt().getEpochSecond() % 50 != 0);
        recorded.forEach(bench.watch::accept);
        assertThat(bench.figure("ua").isAvailable()).as(bench.detail("ua")).isTrue();
    }

    @Test
    void badSamplesAreIgnoredWhileTheyAreFew() {
        Bench bench = new Bench();
        withEveryNthBad(bench, Points.TCS_FLOW, 10);
        assertThat(bench.figure("ua").isAvailable()).as(bench.detail("ua")).isTrue();
        double dutyW = bench.figure("tcs-duty").fold(d -> d.value(), gap -> 0.0);
        assertThat(dutyW).isCloseTo(1.0e6, within(2e4));
    }

    @Test
    void tooManyBadSamplesMakeTheInputBad() {
        Bench bench = new Bench();
        withEveryNthBad(bench, Points.TCS_SUPPLY_TEMPERATURE, 3);
        assertThat(bench.reason("ua")).isEqualTo(Reason.INPUT_BAD);
        assertThat(bench.detail("ua")).contains("tcs.supply.temperature", "299 of 899 samples");
    }

    private static void withEveryNthBad(Bench bench, PointName point, int n) {
        for (Sample s : bench.record(900)) {
            boolean spoilt = s.point() == point && s.measuredAt().getEpochSecond() % n == 0;
            bench.watch.accept(
                    spoilt
                            ? new Sample(
                                    point,
                                    s.measuredAt(),
                                    RawValue.of(-999.0),
                                    Conversion.none(point.quantity()),
                                    new Quality(Quality.Level.BAD, 0x8000_0000L))
                            : s);
        }
    }

    @Test
    void aPointThatIsOnlyBadIsSaidSoWithItsCode() {
        Bench bench = new Bench();
        bench.run(200);
        bench.silence(Points.TCS_FLOW);
        for (int i = 0; i < 12; i++) {
            bench.run(1);
            bench.watch.accept(new Sample(
                    Points.TCS_FLOW,
                    bench.now(),
                    RawValue.NONE,
                    Conversion.none(Points.TCS_FLOW.quantity()),
                    new Quality(Quality.Level.BAD, 7)));
        }
        assertThat(bench.reason("tcs-duty")).isEqualTo(Reason.INPUT_BAD);
        assertThat(bench.detail("tcs-duty")).contains("tcs.flow is called bad by its source (code 7)");
    }

    @Test
    void anImpossibleValueIsNamedWithItsRange() {
        Bench bench = new Bench();
        bench.level(Points.TCS_SUPPLY_TEMPERATURE, 3276.7, 0);
        bench.run(20);
        assertThat(bench.reason("approach")).isEqualTo(Reason.INPUT_IMPLAUSIBLE);
        assertThat(bench.detail("approach")).contains("3276.7 Cel, outside -50.0 to 200.0");
    }

    @Test
    void aSignalThatCannotBeJudgedStaysWhatItWas() {
        Bench bench = new Bench();
        bench.level(Points.TCS_RETURN_TEMPERATURE, 46, 0.02);
        bench.level(Points.FWS_RETURN_TEMPERATURE, 38, 0.02);
        bench.level(Points.TCS_SUPPLY_TEMPERATURE, 37, 0.02);
        bench.level(Points.TCS_FLOW, 0.0242 * 8 / 9, 0.00001);
        bench.run(900);
        FunctionSignal judged = bench.evaluate().signals().get(0);
        assertThat(judged.signal()).as(judged.reason()).isEqualTo(Ne107.OUT_OF_SPECIFICATION);

        bench.signal(Points.TCS_FLOW, t -> 0.021 + 0.003 * Math.sin(t / 20));
        bench.run(120);
        FunctionSignal held = bench.evaluate().signals().get(0);
        assertThat(bench.reason("heat-transfer-reserve")).isEqualTo(Reason.NOT_STEADY);
        assertThat(held.signal()).isEqualTo(Ne107.OUT_OF_SPECIFICATION);
        assertThat(held.judged()).isFalse();
        assertThat(held.reason()).contains("Judged at 2026-11-25T10:15:00Z", "tcs.flow moved by");

        UnitFigures aDayLater = bench.watch.evaluate(bench.now().plus(Duration.ofHours(25)));
        assertThat(aDayLater.signals().get(0).judged()).isFalse();
        assertThat(aDayLater.summary()).as("nothing comes any more").isEqualTo(Ne107.FAILURE);
    }

    @Test
    void aPumpThatStandsIsJudgedByItsLastRun() {
        Bench bench = new Bench();
        bench.run(300);
        assertThat(bench.result("pumping-reserve").subject()).isEqualTo("pump 1; pump 2 has not been seen running");
        double worn = bench.figure("pumping-reserve").fold(e -> e.value(), gap -> 0.0);

        bench.level(Points.numbered("pump.{n}.speed", 1), 0, 0);
        bench.level(Points.numbered("pump.{n}.speed", 2), 0.75, 0);
        bench.level(Points.numbered("pump.{n}.dp", 2), 262_000, 300);
        bench.run(200);
        assertThat(bench.result("pumping-reserve").subject())
                .startsWith("pump 1, as it last ran at 2026-11-25T10:05:00Z");
        double remembered = bench.figure("pumping-reserve").fold(e -> e.value(), gap -> 1.0);
        assertThat(remembered).isEqualTo(worn);
    }

    @Test
    void aSilentFilterSensorDoesNotHideTheOthersOrFailTheUnit() {
        Bench bench = new Bench();
        bench.run(200);
        bench.silence(Points.numbered("tcs.filter.{n}.dp", 4));
        bench.run(70);
        assertThat(bench.result("filtration-reserve").subject()).isEqualTo("filter 3");
        assertThat(bench.evaluate().signals()).noneMatch(s -> s.signal() == Ne107.FAILURE);
    }

    @Test
    void aWatchThatHasHeardNothingSaysSo() {
        UnitFigures figures = new UnitWatch(Bench.unit(SensorClass.DEFAULT)).evaluate(Bench.START);
        assertThat(figures.results())
                .allSatisfy(r -> assertThat(r.value().<Reason>fold(v -> null, gap -> gap.reason()))
                        .as(r.key())
                        .isIn(
                                NEEDS_HISTORY.contains(r.key())
                                        ? List.of(
                                                Reason.BASELINE_MISSING,
                                                Reason.INPUT_MISSING,
                                                Reason.NAMEPLATE_INCOMPLETE,
                                                Reason.NOT_OBSERVABLE,
                                                Reason.INPUT_MISSING)
                                        : List.of(Reason.INPUT_MISSING)));
        assertThat(figures.latest()).isEmpty();
    }

    @Test
    void extremeTimesDoNoHarm() {
        Bench bench = new Bench();
        bench.run(200);
        UnitFigures before = bench.evaluate();
        bench.watch.accept(Sample.good(Points.TCS_FLOW, Instant.MIN, 0.02));
        assertThat(bench.evaluate()).isEqualTo(before);
        bench.watch.accept(Sample.good(Points.TCS_FLOW, Instant.MAX, 0.02));
        assertThat(bench.evaluate().results()).hasSameSizeAs(before.results());
    }
}
