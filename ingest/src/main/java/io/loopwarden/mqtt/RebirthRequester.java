package io.loopwarden.mqtt;

import io.loopwarden.mqtt.payload.EdgeNode;
import java.io.IOException;
import java.security.GeneralSecurityException;
import java.time.Clock;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.eclipse.tahu.protobuf.SparkplugBProto;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Asks edge nodes to announce themselves again: the only thing this service ever publishes. Made only where the configuration allows
 * it; uses a short connection of its own, by MQTT 3.1.1, so that the one that listens cannot publish at all.
 */
final class RebirthRequester implements AutoCloseable {

    private static final Logger LOG = LoggerFactory.getLogger(RebirthRequester.class);
    private static final int MAX_WAITING = 100;
    private static final int MAX_REMEMBERED = 1000;
    private static final String METRIC = "Node Control/Rebirth";

    private final MqttSettings settings;
    private final Duration interval;
    private final Clock clock;
    private final Map<EdgeNode, Long> lastNanos = new LinkedHashMap<>();
    private final ThreadPoolExecutor executor;

    /** @param interval at least this long between two requests to one edge node */
    RebirthRequester(MqttSettings settings, Duration interval, Clock clock) {
        this.settings = settings;
        this.interval = interval;
        this.clock = clock;
        this.executor =
                new ThreadPoolExecutor(1, 1, 1, TimeUnit.SECONDS, new ArrayBlockingQueue<>(MAX_WAITING), task -> {
                    Thread thread = new Thread(task, "mqtt-rebirth-" + settings.clientId());
                    thread.setDaemon(true);
                    return thread;
                });
    }

    /** Returns at once; does nothing if that node was asked a short time ago. */
    synchronized void request(EdgeNode node) {
        long now = System.nanoTime();
        Long last = lastNanos.get(node);
        if (last != null && now - last < interval.toNanos()) {
            return;
        }
        if (lastNanos.size() >= MAX_REMEMBERED) {
            lastNanos.remove(lastNanos.keySet().iterator().next());
        }
        lastNanos.put(node, now);
        try {
            executor.execute(() -> publish(node));
        } catch (RejectedExecutionException e) {
            LOG.info("rebirth of {} is not asked for: {} requests wait", node, MAX_WAITING);
        }
    }

    private void publish(EdgeNode node) {
        long timeoutMs = settings.connectTimeout().toMillis();
        String scheme = settings.tls().isPresent() ? "ssl" : "tcp";
        try (MqttAsyncClient client = new MqttAsyncClient(
                scheme + "://" + settings.host() + ":" + settings.port(),
                settings.clientId() + "-rebirth",
                new MemoryPersistence())) {
            try {
                MqttConnectOptions options = Mqtt311Link.options(settings);
                options.setCleanSession(true);
                client.connect(options).waitForCompletion(timeoutMs);
                String topic = "spBv1.0/" + node.group() + "/NCMD/" + node.name();
                client.publish(topic, payload(), 0, false).waitForCompletion(timeoutMs);
                LOG.info("asked edge node {} for a rebirth", node);
            } finally {
                client.disconnectForcibly(0, 1000, client.isConnected());
            }
        } catch (MqttException | IOException | GeneralSecurityException e) {
            LOG.warn("{}", LinkException.sentence("cannot ask edge node " + node + " for a rebirth", e));
        }
    }

    private byte[] payload() {
        long nowMs = clock.millis();
        return SparkplugBProto.Payload.newBuilder()
                .setTimestamp(nowMs)
                .addMetrics(SparkplugBProto.Payload.Metric.newBuilder()
                        .setName(METRIC)
                        .setTimestamp(nowMs)
                        .setDatatype(SparkplugBProto.DataType.Boolean_VALUE)
                        .setBooleanValue(true))
                .build()
                .toByteArray();
    }

    @Override
    public void close() {
        executor.shutdownNow();
    }
}
