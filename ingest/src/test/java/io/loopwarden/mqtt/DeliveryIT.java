package io.loopwarden.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.collector.RejectReason;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What reaches the disk, and when the broker may forget, over both versions of the protocol. */
class DeliveryIT {

    private static final Duration PATIENCE = Duration.ofSeconds(20);
    private static final Clock CLOCK = Clock.systemUTC();
    private static final String TOPIC = "plant/CDU01/telemetry";

    @TempDir
    static Path folder;

    private static TestBroker broker;

    private final RejectLog rejects = new RejectLog(CLOCK);
    private final List<MqttCollector> collectors = new ArrayList<>();

    @BeforeAll
    static void startBroker() throws Exception {
        broker = TestBroker.in(folder);
        broker.start();
    }

    @AfterAll
    static void stopBroker() throws Exception {
        broker.stop();
    }

    @AfterEach
    void closeCollectors() {
        collectors.forEach(MqttCollector::close);
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void whatIsPublishedWhileWeAreAwayArrivesAfterwards(String version) throws Exception {
        PausableSink sink = new PausableSink();
        started(version, "away", sink).close();
        publish(1, 300);
        assertThat(sink.offered()).isEmpty();
        started(version, "away", sink);
        awaitKept(sink, 1, 300);
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void whatNeverReachedTheDiskComesAgainToTheNextProcess(String version) throws Exception {
        PausableSink stuck = new PausableSink();
        stuck.pause();
        publishWhileAway(version, "killed", 1, 10);
        started(version, "killed", stuck, "reconnect-first", "PT1H", "reconnect-longest", "PT1H");
        await().atMost(PATIENCE).untilAsserted(() -> assertThat(stuck.offered()).hasSize(10));
        assertThat(stuck.kept()).isEmpty();

        // A second process with the same client id takes the session over, as after a kill of the first.
        PausableSink next = new PausableSink();
        started(version, "killed", next);
        awaitKept(next, 1, 10);
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void whatIsOnDiskDoesNotComeAgain(String version) throws Exception {
        PausableSink sink = new PausableSink();
        MqttCollector first = started(version, "once", sink);
        publish(1, 20);
        awaitKept(sink, 1, 20);
        first.close();
        PausableSink next = new PausableSink();
        started(version, "once", next);
        publish(21, 21);
        awaitKept(next, 21, 21);
        assertThat(next.offered()).containsExactly(21L);
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void completionInAnyOrderAndALimitInFlightLoseNothing(String version) throws Exception {
        PausableSink sink = new PausableSink();
        sink.pause();
        publishWhileAway(version, "backwards", 1, 50);
        started(version, "backwards", sink, "max-in-flight", "7");
        await().atMost(PATIENCE).untilAsserted(() -> assertThat(sink.offered()).hasSize(7));
        await().during(Duration.ofMillis(300))
                .atMost(PATIENCE)
                .until(() -> sink.offered().size() == 7);
        sink.resumeBackwards();
        awaitKept(sink, 1, 50);
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void whatCouldNotBeKeptComesAgainByItself(String version) throws Exception {
        PausableSink sink = new PausableSink();
        AtomicInteger failures = new AtomicInteger(3);
        MqttCollector collector = started(
                version,
                "full",
                (unit, at, readings) -> failures.getAndDecrement() > 0
                        ? CompletableFuture.failedFuture(new IllegalStateException("the log is full"))
                        : sink.accept(unit, at, readings));
        publish(1, 5);
        awaitKept(sink, 1, 5);
        await().atMost(PATIENCE).until(() -> collector.status().detail().isEmpty());
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void aDiskThatDoesNotAnswerMakesTheConnectionStartAnew(String version) throws Exception {
        PausableSink sink = new PausableSink();
        AtomicInteger calls = new AtomicInteger();
        started(
                version,
                "mute",
                (unit, at, readings) ->
                        calls.getAndIncrement() == 0 ? new CompletableFuture<>() : sink.accept(unit, at, readings),
                "ack-timeout",
                "PT0.3S");
        publish(1, 3);
        awaitKept(sink, 1, 3);
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void refusedMessagesAreCountedAndDoNotComeAgain(String version) throws Exception {
        PausableSink sink = new PausableSink();
        MqttCollector first = started(version, "refused", sink);
        TestPublisher.publish(
                broker, TOPIC, 1, false, "{\"values\":{\"T_SUP\":1".getBytes(), new byte[10 * 1024 * 1024]);
        TestPublisher.publish(broker, "plant/CDU09/telemetry", "{\"values\":{\"T_SUP\":1}}");
        publish(1, 1);
        awaitKept(sink, 1, 1);
        assertThat(rejects.count(RejectReason.MALFORMED)).isEqualTo(1);
        assertThat(rejects.count(RejectReason.PAYLOAD_TOO_LARGE)).isEqualTo(1);
        assertThat(rejects.count(RejectReason.UNKNOWN_UNIT)).isEqualTo(1);
        assertThat(first.status().state()).isEqualTo(State.CONNECTED);
        first.close();
        started(version, "refused", sink);
        publish(2, 2);
        awaitKept(sink, 2, 2);
        assertThat(rejects.entries())
                .allSatisfy(entry -> assertThat(entry.count()).isEqualTo(1));
    }

    /** This broker hands over several messages at once only when they have been waiting. */
    private void publishWhileAway(String version, String session, int from, int to) throws Exception {
        started(version, session, new PausableSink()).close();
        publish(from, to);
    }

    private MqttCollector started(String version, String session, ReadingSink sink, String... more) {
        List<String> settings = new ArrayList<>(List.of(
                "version", version,
                "client-id", session + "-" + version,
                "topics", "plant/+/telemetry",
                "reconnect-first", "PT0.1S",
                "reconnect-longest", "PT0.5S",
                "redelivery-delay", "PT0.2S"));
        settings.addAll(List.of(more));
        Connection connection =
                TestUnits.connection("mqtt-json", broker.endpoint(), List.of("CDU01"), settings.toArray(String[]::new));
        MqttCollector collector = new MqttCollector(connection, MqttSettings.from(connection), sink, rejects, CLOCK);
        collectors.add(collector);
        collector.start();
        await().atMost(PATIENCE).until(() -> collector.status().state() == State.CONNECTED);
        return collector;
    }

    private static void publish(int from, int to) throws Exception {
        TestPublisher.publish(
                broker,
                TOPIC,
                IntStream.rangeClosed(from, to)
                        .mapToObj(value -> "{\"values\":{\"T_SUP\":" + value + "}}")
                        .toArray(String[]::new));
    }

    private static void awaitKept(PausableSink sink, long from, long to) {
        await().atMost(PATIENCE)
                .untilAsserted(() -> assertThat(sink.kept())
                        .containsAll(LongStream.rangeClosed(from, to).boxed().toList()));
    }
}
