package io.loopwarden.bench;

import java.nio.charset.StandardCharsets;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import org.eclipse.paho.client.mqttv3.IMqttActionListener;
import org.eclipse.paho.client.mqttv3.IMqttToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/** Sends every unit's values in turn over MQTT, spread evenly over the period; the time in a message is that of its sending. */
final class Sender implements AutoCloseable {

    private static final int IN_FLIGHT = 20_000;

    private final PlayedUnit played;
    private final int units;
    private final long periodNs;
    private final MqttAsyncClient client;
    private final Thread thread = new Thread(this::send, "bench-sender");
    private final AtomicLong refused = new AtomicLong();
    private final AtomicLong latestByMs = new AtomicLong();
    private volatile boolean closing;

    Sender(String broker, PlayedUnit played, int units, double hertz) throws MqttException {
        this.played = played;
        this.units = units;
        this.periodNs = (long) (1e9 / hertz);
        client = new MqttAsyncClient(broker.replace("mqtt:", "tcp:"), "bench-sender", new MemoryPersistence());
        MqttConnectOptions options = new MqttConnectOptions();
        options.setMaxInflight(IN_FLIGHT);
        client.connect(options).waitForCompletion(20_000);
        thread.setDaemon(true);
        thread.start();
    }

    /** Messages that the client or the broker did not take. */
    long refused() {
        return refused.get();
    }

    /** How far the sender was ever behind its own time table, ms: more than a few, and the machine was too busy to measure. */
    long latestByMs() {
        return latestByMs.get();
    }

    private void send() {
        String[] values = new String[played.seconds()];
        for (int second = 0; second < values.length; second++) {
            values[second] = ",\"values\":" + played.json(second) + "}";
        }
        long begin = System.nanoTime();
        for (long n = 0; !closing; n++) {
            int unit = (int) (n % units);
            long dueNs = begin + n * periodNs / units;
            while (System.nanoTime() < dueNs) {
                LockSupport.parkNanos(dueNs - System.nanoTime());
            }
            long behindMs = (System.nanoTime() - dueNs) / 1_000_000;
            latestByMs.accumulateAndGet(behindMs, Math::max);
            long round = n / units;
            String message = "{\"time\":" + System.currentTimeMillis() + values[(int) ((round + unit) % values.length)];
            publish(FleetFiles.topic(unit), message.getBytes(StandardCharsets.US_ASCII));
        }
    }

    private void publish(String topic, byte[] payload) {
        try {
            client.publish(topic, payload, 1, false, null, new IMqttActionListener() {
                @Override
                public void onSuccess(IMqttToken token) {
                    // Nothing waits for it.
                }

                @Override
                public void onFailure(IMqttToken token, Throwable cause) {
                    refused.incrementAndGet();
                }
            });
        } catch (MqttException e) {
            refused.incrementAndGet();
        }
    }

    @Override
    public void close() throws MqttException {
        closing = true;
        try {
            thread.join(10_000);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        client.disconnectForcibly(0, 1000);
        client.close(true);
    }
}
