package io.loopwarden.bench;

import io.loopwarden.collector.Connection;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.mqtt.MqttCollector;
import io.loopwarden.mqtt.MqttSettings;
import io.loopwarden.pointmap.PointMap;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/** MQTT messages of 40 samples, committed, against a bare subscriber of the same client library that only counts. */
final class MqttRate implements BenchMain.Row {

    private static final String TOPIC = "plant/CDU01/telemetry";
    private static final int DIFFERENT = 64;
    private static final int TIME_DIGITS = 13;

    private final List<PointName> points = MadeScans.names(MadeScans.POINTS);

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int messages = wanted.of(300, 10_000, 30_000);
        int runs = wanted.of(1, 5, 7);
        double[] ours = new double[runs];
        double[] bare = new double[runs];
        try (BenchStore database = new BenchStore()) {
            if (wanted.size() != Wanted.Size.TINY) {
                bare(messages);
                ours(database, messages, -1);
            }
            for (int run = 0; run < runs; run++) {
                bare[run] = bare(messages);
                ours[run] = ours(database, messages, run);
            }
        }
        return Sheet.of(Line.rate(
                "MQTT JSON, 40 samples a message, committed, against a bare subscriber",
                Runs.of(ours),
                Runs.of(bare),
                "messages/s",
                0.6));
    }

    private double bare(int messages) throws Exception {
        AtomicLong count = new AtomicLong();
        try (BlastServer server = new BlastServer(TOPIC, payloads(0), messages)) {
            MqttAsyncClient client =
                    new MqttAsyncClient("tcp://127.0.0.1:" + server.port(), "bare", new MemoryPersistence());
            client.setCallback(new CountingCallback(count));
            client.connect(new MqttConnectOptions()).waitForCompletion(10_000);
            client.subscribe("plant/+/telemetry", 1);
            double perSecond = server.messagesPerSecond().get(120, TimeUnit.SECONDS);
            client.disconnectForcibly(0, 1000);
            client.close();
            if (count.get() != messages) {
                throw new IllegalStateException("the bare subscriber counted " + count + " of " + messages);
            }
            return perSecond;
        }
    }

    /** Messages of each run have times of their own: what is there already is not stored again. */
    private double ours(BenchStore database, int messages, int run) throws Exception {
        try (BlastServer server = new BlastServer(TOPIC, payloads(run + 2), messages)) {
            Connection connection = connection(server.port());
            try (Pipeline pipeline = new Pipeline(database, connection);
                    MqttCollector collector = new MqttCollector(
                            connection,
                            MqttSettings.from(connection),
                            pipeline.intake,
                            pipeline.rejects,
                            Clock.systemUTC())) {
                collector.start();
                double perSecond = server.messagesPerSecond().get(120, TimeUnit.SECONDS);
                // The last acknowledgement has left, so all is on disk.
                if (pipeline.committed() != (long) messages * MadeScans.POINTS) {
                    throw new IllegalStateException(
                            pipeline.committed() + " samples of " + messages + " messages are committed");
                }
                return perSecond;
            }
        }
    }

    private Connection connection(int port) {
        List<PointMap.Entry> entries = points.stream()
                .map(point -> new PointMap.Entry(
                        point, tag(point), io.loopwarden.fleet.Conversion.none(point.quantity()), null, -1e9, 1e9))
                .toList();
        return new Connection(
                "rate",
                "mqtt-json",
                URI.create("mqtt://127.0.0.1:" + port),
                Map.of("client-id", "collector", "topics", "plant/+/telemetry", "version", "3.1.1"),
                List.of(new Connection.ServedUnit(
                        new UnitId("E-01"), "CDU01", new PointMap("rate", "mqtt-json", entries))));
    }

    private static String tag(PointName point) {
        return "TAG_" + point.value().toUpperCase(Locale.ROOT);
    }

    /** A few messages with different values, again and again, each time a hundredth of a second later. */
    private BlastServer.Payloads payloads(int run) {
        Random random = new Random(run);
        long firstMs = Instant.now().minusSeconds(86_400L - 3600L * run).toEpochMilli();
        List<byte[]> made = new ArrayList<>();
        for (int i = 0; i < DIFFERENT; i++) {
            StringBuilder json = new StringBuilder("{\"time\":" + firstMs + ",\"values\":{");
            for (int p = 0; p < points.size(); p++) {
                json.append(p == 0 ? "\"" : ",\"").append(tag(points.get(p))).append("\":");
                json.append(String.format(Locale.ROOT, "%.3f", 10 + 80 * random.nextDouble()));
            }
            made.add(json.append("}}").toString().getBytes(StandardCharsets.US_ASCII));
        }
        int timeAt = "{\"time\":".length();
        return n -> {
            byte[] payload = made.get(n % DIFFERENT);
            long ms = firstMs + 10L * n;
            for (int digit = TIME_DIGITS - 1; digit >= 0; digit--) {
                payload[timeAt + digit] = (byte) ('0' + ms % 10);
                ms /= 10;
            }
            return payload;
        };
    }
}
