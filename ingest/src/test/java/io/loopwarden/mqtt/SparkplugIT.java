package io.loopwarden.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RecordingSink;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.Date;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.eclipse.tahu.message.SparkplugBPayloadDecoder;
import org.eclipse.tahu.message.SparkplugBPayloadEncoder;
import org.eclipse.tahu.message.model.Metric;
import org.eclipse.tahu.message.model.Metric.MetricBuilder;
import org.eclipse.tahu.message.model.MetricDataType;
import org.eclipse.tahu.message.model.SparkplugBPayload;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** An edge node with one device against a real broker; its messages are coded by the library's encoder. */
class SparkplugIT {

    private static final Duration PATIENCE = Duration.ofSeconds(20);

    @TempDir
    static Path folder;

    private static TestBroker broker;

    private final RecordingSink sink = new RecordingSink();
    private final RejectLog rejects = new RejectLog(Clock.systemUTC());
    private final List<Metric> commands = new CopyOnWriteArrayList<>();
    private MqttAsyncClient edgeNode;
    private MqttCollector collector;

    @BeforeAll
    static void startBroker() throws Exception {
        broker = TestBroker.in(folder);
        broker.start();
    }

    @AfterAll
    static void stopBroker() throws Exception {
        broker.stop();
    }

    @BeforeEach
    void connectEdgeNode() throws Exception {
        edgeNode = new MqttAsyncClient("tcp://127.0.0.1:" + broker.port(), "edge-node", new MemoryPersistence());
        MqttConnectOptions options = new MqttConnectOptions();
        options.setWill(topic("NDEATH", ""), coded(-1, bdSeq()), 1, false);
        edgeNode.connect(options).waitForCompletion(10_000);
        edgeNode.subscribe(
                        topic("NCMD", ""),
                        1,
                        (at, message) -> commands.addAll(new SparkplugBPayloadDecoder()
                                .buildFromByteArray(message.getPayload(), null)
                                .getMetrics()))
                .waitForCompletion(10_000);
    }

    @AfterEach
    void closeAll() throws Exception {
        collector.close();
        edgeNode.disconnectForcibly(0, 1000, edgeNode.isConnected());
        edgeNode.close();
    }

    @Test
    void birthDataAndDeathByWill() throws Exception {
        start("will");
        birth();
        await().atMost(PATIENCE).until(() -> sink.hasGood("T_SUP", 31.5));
        publish("DDATA", "/CDU01", 2, alias(5, 32.5));
        await().atMost(PATIENCE).until(() -> sink.hasGood("T_SUP", 32.5));

        edgeNode.disconnectForcibly(0, 1, false); // no DISCONNECT: the broker sends the will
        await().atMost(PATIENCE).until(() -> sink.hasBad("T_SUP"));
        RawReading last = sink.of("T_SUP").reduce((earlier, later) -> later).orElseThrow();
        assertThat(last.value()).isEqualTo(RawValue.NONE);
        assertThat(last.quality()).isEqualTo(new Quality(Level.BAD, 500));
        assertThat(sink.deliveries())
                .extracting(delivery -> delivery.unit().value())
                .containsOnly("E-01");
    }

    @Test
    void gapIsCountedAndByDefaultNothingIsPublished() throws Exception {
        start("silent");
        birth();
        publish("DDATA", "/CDU01", 7, alias(5, 33.5));
        await().atMost(PATIENCE).until(() -> rejects.count(RejectReason.OUT_OF_SEQUENCE) == 1);
        assertThat(sink.of("T_SUP").map(reading -> reading.quality().level())).contains(Level.UNCERTAIN);
        // A request would have come before what is published after it: with the marker, all has arrived.
        publish("NCMD", "", -1, new MetricBuilder("marker", MetricDataType.Boolean, true).createMetric());
        await().atMost(PATIENCE).until(() -> !commands.isEmpty());
        await().during(Duration.ofMillis(500))
                .atMost(PATIENCE)
                .untilAsserted(
                        () -> assertThat(commands).extracting(Metric::getName).containsExactly("marker"));
    }

    @Test
    void gapAsksOnceForARebirthWhereThatIsAllowed() throws Exception {
        start("asking", "allow-rebirth-request", "true");
        birth();
        publish("DDATA", "/CDU01", 7, alias(5, 33.5));
        publish("DDATA", "/CDU01", 9, alias(5, 34.5));
        await().atMost(PATIENCE).until(() -> !commands.isEmpty());
        await().during(Duration.ofMillis(500))
                .atMost(PATIENCE)
                .untilAsserted(() -> assertThat(commands).singleElement().satisfies(command -> {
                    assertThat(command.getName()).isEqualTo("Node Control/Rebirth");
                    assertThat(command.getValue()).isEqualTo(true);
                }));
        birth();
        publish("DDATA", "/CDU01", 2, alias(5, 35.5));
        await().atMost(PATIENCE).until(() -> sink.hasGood("T_SUP", 35.5));
    }

    private void start(String clientId, String... more) {
        String[] settings = new String[more.length + 2];
        settings[0] = "client-id";
        settings[1] = clientId;
        System.arraycopy(more, 0, settings, 2, more.length);
        Connection connection =
                TestUnits.connection("mqtt-sparkplug", broker.endpoint(), List.of("GW1/CDU01"), settings);
        collector = new MqttCollector(connection, MqttSettings.from(connection), sink, rejects, Clock.systemUTC());
        collector.start();
        await().atMost(PATIENCE).until(() -> collector.status().state() == State.CONNECTED);
    }

    private void birth() throws Exception {
        publish("NBIRTH", "", 0, bdSeq());
        publish(
                "DBIRTH",
                "/CDU01",
                1,
                new MetricBuilder("T_SUP", MetricDataType.Double, 31.5)
                        .alias(5L)
                        .createMetric());
    }

    private void publish(String type, String device, long seq, Metric... metrics) throws Exception {
        edgeNode.publish(topic(type, device), coded(seq, metrics), 0, false).waitForCompletion(10_000);
    }

    private static String topic(String type, String device) {
        return "spBv1.0/plant/" + type + "/GW1" + device;
    }

    private static Metric bdSeq() throws Exception {
        return new MetricBuilder("bdSeq", MetricDataType.Int64, 3L).createMetric();
    }

    private static Metric alias(long alias, double value) throws Exception {
        return new MetricBuilder(alias, MetricDataType.Double, value).createMetric();
    }

    private static byte[] coded(long seq, Metric... metrics) throws Exception {
        SparkplugBPayload payload =
                new SparkplugBPayload(new Date(), List.of(metrics), seq < 0 ? null : seq, null, null);
        return new SparkplugBPayloadEncoder().getBytes(payload, false);
    }
}
