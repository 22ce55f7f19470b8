package io.loopwarden.system;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;

/** One unit over MQTT, with a broker, the service and a publisher that the test drives. */
final class Bench implements AutoCloseable {

    static final String UNIT = "X-01";
    private static final String TOPIC = "bench/CDU01/telemetry";

    private final Broker broker;
    private final Service service;
    private final MqttAsyncClient publisher;

    private Bench(Broker broker, Service service, MqttAsyncClient publisher) {
        this.broker = broker;
        this.service = service;
        this.publisher = publisher;
    }

    static Bench start(Path folder) throws MqttException {
        Broker broker = Broker.start(folder.resolve("broker"));
        Service service = new Service(fleet(folder.resolve("fleet"), broker.address()), folder.resolve("service"));
        MqttAsyncClient publisher = new MqttAsyncClient(
                broker.address().replace("mqtt:", "tcp:"), "bench-publisher", new MemoryPersistence());
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setAutomaticReconnect(true);
        options.setReceiveMaximum(1000);
        publisher.connect(options).waitForCompletion(20_000);
        Bench bench = new Bench(broker, service.start(), publisher);
        // Until then the broker has no session of the service to keep messages in.
        Awaitility.await("the service has subscribed")
                .atMost(Duration.ofSeconds(60))
                .until(() -> bench.connectionState().equals("connected"));
        return bench;
    }

    private String connectionState() {
        return service.get("/api/v1/data-quality")
                .get("connections")
                .get(0)
                .get("state")
                .asText();
    }

    Service service() {
        return service;
    }

    /** Publishes with QoS 1; the token completes when the broker has acknowledged. */
    IMqttToken publish(byte[] payload) throws MqttException {
        MqttMessage message = new MqttMessage(payload);
        message.setQos(1);
        return publisher.publish(TOPIC, message);
    }

    IMqttToken publish(String payload) throws MqttException {
        return publish(payload.getBytes(StandardCharsets.UTF_8));
    }

    /** Publishes with QoS 1 and hears whether the broker has acknowledged. */
    void publish(String payload, MqttActionListener listener) throws MqttException {
        MqttMessage message = new MqttMessage(payload.getBytes(StandardCharsets.UTF_8));
        message.setQos(1);
        publisher.publish(TOPIC, message, null, listener);
    }

    static String message(Instant time, String values) {
        return "{\"unit\":\"CDU01\",\"time\":\"" + time + "\",\"values\":{" + values + "}}";
    }

    private static Path fleet(Path folder, String broker) {
        Path example = Repository.root().resolve("api/src/test/resources/system/fleet");
        try (Stream<Path> files = Files.walk(example)) {
            List<Path> all = files.filter(Files::isRegularFile).toList();
            for (Path file : all) {
                Path target = folder.resolve(example.relativize(file).toString());
                Files.createDirectories(target.getParent());
                Files.writeString(target, Files.readString(file).replace("mqtt://127.0.0.1:1", broker));
            }
            return folder;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public void close() throws MqttException {
        publisher.disconnectForcibly(1000);
        publisher.close(true);
        service.close();
        broker.close();
    }
}
