package io.loopwarden.opcua;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.RawReading;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import java.net.URI;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/**
 * No sample goes missing without a mark. The server counts up with each sample, so a number that is not there was
 * lost, and a mark has to lie between its neighbours.
 */
class OpcUaGapIT {

    private static final String COUNT = "count";
    private static final Quality NO_COMMUNICATION = new Quality(Quality.Level.BAD, 0x8031_0000L);

    private final PlantServer server = new PlantServer();
    private Wire wire;
    private Bench bench;

    @BeforeEach
    void startServer() throws Exception {
        server.count(COUNT);
        server.start();
        wire = new Wire(server.port());
    }

    @AfterEach
    void closeAll() throws Exception {
        if (bench != null) {
            bench.close();
        }
        wire.close();
        server.close();
    }

    @Test
    void restartOfTheServerIsMarked() throws Exception {
        begin(Plants.quick());
        server.stop();
        bench.awaitState(State.LOST);
        server.start();
        bench.awaitConnected();
        awaitMoreThan(last());
        assertThat(marks()).as("one for the loss").hasSize(1);
        assertNoUnmarkedGap();
    }

    @Test
    void shortBreakIsBridgedByTheServersQueue() {
        begin(Plants.quick("queue-size", "10000"));
        wire.cut();
        bench.awaitState(State.LOST);
        long before = last();
        wire.mend();
        bench.awaitConnected();
        awaitMoreThan(before + 100); // at 20 ms a sample: more than came while it was away
        assertThat(marks()).as("the break itself, nothing lost").hasSize(1);
        assertThat(missing()).as("all numbers are there").isZero();
    }

    @Test
    void queueThatOverflowsInABreakIsMarked() {
        begin(Plants.quick("queue-size", "3"));
        wire.cut();
        bench.awaitState(State.LOST);
        long before = last();
        wire.mend();
        bench.awaitConnected();
        awaitMoreThan(before + 100);
        assertThat(missing())
                .as("more was sampled in the break than the queue holds")
                .isPositive();
        assertNoUnmarkedGap();
    }

    @Test
    void silentWireIsNoticedByKeepAliveAndMarked() {
        begin(Plants.quick("keep-alive", "PT0.2S"));
        wire.goSilent();
        bench.awaitState(State.LOST);
        assertThat(marks()).hasSize(1);
        wire.mend();
        bench.awaitConnected();
        awaitMoreThan(last());
        assertNoUnmarkedGap();
    }

    @Test
    void serverThatForgotTheSessionIsMetAgainFromTheBeginning() throws Exception {
        begin(Plants.quick("session-timeout", "PT1S"));
        wire.cut();
        bench.awaitState(State.LOST);
        server.stop();
        bench.awaitDetail("did not come back in time");
        server.start();
        wire.mend();
        bench.awaitConnected();
        awaitMoreThan(last());
        assertNoUnmarkedGap();
    }

    @Test
    void serverThatTakesTheConnectionAndNeverAnswersIsSaid() {
        wire.goSilent();
        bench = new Bench(
                        URI.create("opc.tcp://127.0.0.1:" + wire.port() + "/plant"),
                        Plants.quick("request-timeout", "PT0.3S"),
                        Plants.unit("E-01", Map.of("tcs.flow", PlantServer.node(COUNT))))
                .start();
        bench.awaitDetail("no answer in time");
        wire.mend();
        awaitMoreThan(10);
    }

    @Test
    void valueThatStaysOverABreakCountsAgainAfterIt() throws Exception {
        Instant longAgo = Instant.parse("2026-01-02T03:04:05Z");
        server.set("steady", new DataValue(Variant.of(7.0), StatusCode.GOOD, new DateTime(longAgo)));
        bench = new Bench(
                        server.address(),
                        Plants.quick(),
                        Plants.unit("E-01", Map.of("tcs.flow", PlantServer.node("steady"))))
                .start();
        bench.awaitGood("steady", 7);
        server.stop();
        bench.awaitState(State.LOST);
        server.start();
        String node = PlantServer.node("steady");
        await().atMost(Bench.PATIENCE).until(() -> bench.sink.of(node).count() >= 4);
        List<RawReading> readings = bench.sink.of(node).toList();
        assertThat(readings)
                .hasSize(4)
                .extracting(RawReading::quality)
                .containsExactly(Quality.GOOD, NO_COMMUNICATION, Quality.GOOD, Quality.GOOD);
        assertThat(readings.get(0).measuredAt()).isEqualTo(longAgo);
        assertThat(readings.get(2)).as("its own time, as the server sent it").isEqualTo(readings.get(0));
        assertThat(readings.get(3).measuredAt())
                .as("confirmed after the gap")
                .isAfter(readings.get(1).measuredAt());
    }

    @Test
    void closeMarksThatNothingIsKnownFromHereOn() {
        begin(Plants.quick());
        bench.close();
        assertThat(marks()).hasSize(1);
        assertThat(readings()).last().extracting(RawReading::quality).isEqualTo(NO_COMMUNICATION);
    }

    private void begin(Map<String, String> settings) {
        URI throughWire = URI.create("opc.tcp://127.0.0.1:" + wire.port() + "/plant");
        bench = new Bench(throughWire, settings, Plants.unit("E-01", Map.of("tcs.flow", PlantServer.node(COUNT))))
                .start();
        bench.awaitConnected();
        awaitMoreThan(10);
    }

    private void awaitMoreThan(long number) {
        await().alias("counted beyond " + number)
                .atMost(Bench.PATIENCE)
                .until(() -> !readings().isEmpty() && last() > number);
    }

    private List<RawReading> readings() {
        return bench.sink.of(PlantServer.node(COUNT)).toList();
    }

    private List<RawReading> marks() {
        return readings().stream().filter(OpcUaGapIT::isMark).toList();
    }

    private long last() {
        return readings().stream()
                .filter(reading -> !isMark(reading))
                .mapToLong(OpcUaGapIT::number)
                .max()
                .orElse(0);
    }

    private long missing() {
        List<Long> numbers = readings().stream()
                .filter(reading -> !isMark(reading))
                .map(OpcUaGapIT::number)
                .distinct()
                .toList();
        return numbers.get(numbers.size() - 1) - numbers.get(0) + 1 - numbers.size();
    }

    private void assertNoUnmarkedGap() {
        RawReading before = null;
        boolean marked = false;
        for (RawReading reading : readings()) {
            if (isMark(reading)) {
                assertThat(reading.quality()).isEqualTo(NO_COMMUNICATION);
                assertThat(before).isNotNull();
                assertThat(reading.measuredAt()).isAfter(before.measuredAt());
                marked = true;
                continue;
            }
            if (before != null && number(reading) != number(before) + 1) {
                assertThat(marked)
                        .as("%d to %d without a mark", number(before), number(reading))
                        .isTrue();
            }
            before = reading;
            marked = false;
        }
    }

    private static boolean isMark(RawReading reading) {
        return reading.value() instanceof RawValue.None;
    }

    private static long number(RawReading reading) {
        return ((RawValue.Whole) reading.value()).value();
    }
}
