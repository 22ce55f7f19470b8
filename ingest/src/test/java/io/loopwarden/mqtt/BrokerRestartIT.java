package io.loopwarden.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.RejectLog;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A broker that stops with messages it has no acknowledgement for, and comes back. */
class BrokerRestartIT {

    private static final Duration PATIENCE = Duration.ofSeconds(20);

    @TempDir
    Path folder;

    @Test
    void whatWasUnderWayComesAgainFromTheRestartedBroker() throws Exception {
        TestBroker broker = TestBroker.remembering(folder);
        broker.start();
        PausableSink sink = new PausableSink();
        Connection connection = TestUnits.connection(
                "mqtt-json",
                broker.endpoint(),
                List.of("CDU01"),
                "topics",
                "plant/+/telemetry",
                "reconnect-first",
                "PT0.1S",
                "reconnect-longest",
                "PT0.5S");
        try (MqttCollector collector = new MqttCollector(
                connection, MqttSettings.from(connection), sink, new RejectLog(Clock.systemUTC()), Clock.systemUTC())) {
            collector.start();
            await().atMost(PATIENCE).until(() -> collector.status().state() == State.CONNECTED);
            sink.pause();
            TestPublisher.publish(
                    broker, "plant/CDU01/telemetry", "{\"values\":{\"T_SUP\":1}}", "{\"values\":{\"T_SUP\":2}}");
            await().atMost(PATIENCE).until(() -> !sink.offered().isEmpty());
            broker.stop();
            await().atMost(PATIENCE).until(() -> collector.status().state() == State.LOST);
            assertThat(sink.kept()).isEmpty();

            sink.forgetWaiting();
            broker.start();
            await().atMost(PATIENCE).untilAsserted(() -> assertThat(sink.kept()).containsExactly(1L, 2L));
        } finally {
            broker.stop();
        }
    }
}
