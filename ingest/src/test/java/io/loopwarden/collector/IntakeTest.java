package io.loopwarden.collector;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.pointmap.PointMapFile;
import io.loopwarden.samplelog.LogFullException;
import io.loopwarden.samplelog.SampleLog;
import java.net.URI;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class IntakeTest {

    private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");
    private static final UnitId UNIT = new UnitId("E-01");
    private static final String TEMPERATURE = "ns=2;s=CDU01/SecSupplyTemp";
    private static final String FLOW = "ns=2;s=CDU01/SecFlow";

    private final Clock clock = Clock.fixed(NOW, ZoneOffset.UTC);
    private final RejectLog rejects = new RejectLog(clock);
    private final MemoryLog log = new MemoryLog();
    private final Intake intake = new Intake(connection(), log, rejects, clock);

    @Test
    void readingBecomesASampleWithTheRawNumberKept() {
        assertThat(accept(reading(FLOW, RawValue.of(500.0), Quality.GOOD))).isCompleted();
        Scan scan = log.scans.get(0);
        Sample sample = scan.samples().get(0);
        assertThat(scan.unit()).isEqualTo(UNIT);
        assertThat(scan.receivedAt()).isEqualTo(NOW);
        assertThat(sample.point().value()).isEqualTo("tcs.flow");
        assertThat(sample.raw()).isEqualTo(RawValue.of(500.0));
        assertThat(sample.conversion().ucum()).isEqualTo("[gal_us]/min");
        assertThat(sample.valueSi()).isCloseTo(0.0315450982, within(1e-10));
        assertThat(sample.quality()).isEqualTo(Quality.GOOD);
        assertThat(intake.counters()).isEqualTo(new IntakeCounters("east", 1, 0, 0, Map.of()));
    }

    @ParameterizedTest(name = "{0} °F, {1} {2}")
    @CsvSource(textBlock = """
            # degF, level,     code,       kept as
            100,    GOOD,      0,          GOOD
            250,    GOOD,      0,          UNCERTAIN
            31,     GOOD,      4194304,    UNCERTAIN
            32,     GOOD,      0,          GOOD
            250,    UNCERTAIN, 1073741824, UNCERTAIN
            250,    BAD,       2147483648, BAD
            """)
    void valueBeyondItsPlausibleRangeIsKeptAsUncertain(double degF, Level level, long code, Level keptAs) {
        accept(reading(TEMPERATURE, RawValue.of(degF), new Quality(level, code)));
        Sample sample = log.scans.get(0).samples().get(0);
        assertThat(sample.quality()).isEqualTo(new Quality(keptAs, code));
        assertThat(sample.raw()).isEqualTo(RawValue.of(degF));
    }

    @Test
    void statusWithoutAValueIsKeptAsBad() {
        accept(
                reading(FLOW, RawValue.NONE, new Quality(Level.BAD, 2)),
                reading(TEMPERATURE, RawValue.NONE, new Quality(Level.UNCERTAIN, 7)));
        assertThat(log.scans.get(0).samples())
                .extracting(Sample::quality)
                .containsExactly(new Quality(Level.BAD, 2), new Quality(Level.BAD, 7));
        assertThat(intake.counters().bad()).isEqualTo(2);
    }

    @Test
    void unknownTagIsRejectedAndItsNeighbourKept() {
        accept(
                reading("ns=2;s=CDU01/Nobody", RawValue.of(1.0), Quality.GOOD),
                reading(FLOW, RawValue.of(5L), Quality.GOOD));
        assertThat(log.scans.get(0).samples()).hasSize(1);
        assertThat(intake.counters().rejected()).isEqualTo(Map.of(RejectReason.UNKNOWN_TAG, 1L));
        assertThat(rejects.entries().get(0).lastDetail()).contains("E-01", "ns=2;s=CDU01/Nobody");
        assertThat(rejects.entries().get(0).connection()).isEqualTo("east");
    }

    @ParameterizedTest(name = "{0} from now")
    @CsvSource(textBlock = """
            # offset,  rejected
            PT5M,      false
            PT5M1S,    true
            -P30D,     false
            -P30DT1S,  true
            """)
    void sourceTimeFarOffIsRejected(Duration offset, boolean rejected) {
        CompletableFuture<Void> done = accept(new RawReading(FLOW, NOW.plus(offset), RawValue.of(1.0), Quality.GOOD));
        assertThat(done).as("a refusal is final, the source need not keep it").isCompleted();
        assertThat(log.scans.isEmpty()).isEqualTo(rejected);
        assertThat(rejects.count(RejectReason.TIME_FAR_OFF)).isEqualTo(rejected ? 1 : 0);
    }

    @Test
    void numberThatOverflowsInTheInnerUnitIsRejected() {
        Intake tiny = new Intake(connection(), log, rejects, clock);
        tiny.accept(UNIT, NOW, List.of(reading("ns=2;s=CDU01/SecDp", RawValue.of(1e308), Quality.GOOD)));
        assertThat(log.scans).isEmpty();
        assertThat(tiny.counters().rejected()).isEqualTo(Map.of(RejectReason.WRONG_TYPE, 1L));
    }

    @Test
    void unitOfAnotherConnectionIsRejected() {
        intake.accept(new UnitId("X-9"), NOW, List.of(reading(FLOW, RawValue.of(1.0), Quality.GOOD)));
        assertThat(log.scans).isEmpty();
        assertThat(rejects.count(RejectReason.UNKNOWN_UNIT)).isEqualTo(1);
    }

    @Test
    void fullLogFailsTheFutureAndCountsEverySample() {
        log.answer = CompletableFuture.failedFuture(new LogFullException("no room for 2 s"));
        CompletableFuture<Void> done = accept(
                reading(FLOW, RawValue.of(1.0), Quality.GOOD), reading(TEMPERATURE, RawValue.of(70.0), Quality.GOOD));
        assertThat(done).isCompletedExceptionally();
        assertThat(intake.counters()).isEqualTo(new IntakeCounters("east", 0, 0, 0, Map.of(RejectReason.LOG_FULL, 2L)));
        assertThat(rejects.entries().get(0).lastDetail()).isEqualTo("2 samples of E-01 were not kept: no room for 2 s");
    }

    @Test
    void nothingIsCountedAsKeptBeforeItIsOnDisk() {
        log.answer = new CompletableFuture<>();
        CompletableFuture<Void> done = accept(reading(FLOW, RawValue.of(1.0), Quality.GOOD));
        assertThat(done).isNotDone();
        assertThat(intake.counters().kept()).isZero();
        log.answer.complete(null);
        assertThat(done).isCompleted();
        assertThat(intake.counters().kept()).isEqualTo(1);
    }

    private CompletableFuture<Void> accept(RawReading... readings) {
        return intake.accept(UNIT, NOW, List.of(readings));
    }

    private static RawReading reading(String source, RawValue value, Quality quality) {
        return new RawReading(source, NOW, value, quality);
    }

    private static Connection connection() {
        PointMapFile file = PointMapFile.load(Path.of("src/test/resources/fleet/maps/quillmere-1400-opcua.yaml"))
                .value()
                .orElseThrow();
        return new Connection(
                "east",
                "opc-ua",
                URI.create("opc.tcp://127.0.0.1:4840"),
                Map.of(),
                List.of(new ServedUnit(UNIT, "CDU01", file.map())));
    }

    private static final class MemoryLog implements SampleLog {

        private final List<Scan> scans = new ArrayList<>();
        private CompletableFuture<Void> answer = CompletableFuture.completedFuture(null);

        @Override
        public CompletableFuture<Void> append(Scan scan) {
            scans.add(scan);
            return answer;
        }

        @Override
        public void close() {
            scans.clear();
        }
    }
}
