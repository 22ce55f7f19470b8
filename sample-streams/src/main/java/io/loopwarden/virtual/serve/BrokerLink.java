package io.loopwarden.virtual.serve;

import java.util.Optional;
import java.util.function.BiConsumer;
import org.eclipse.paho.client.mqttv3.IMqttActionListener;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.IMqttToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One controller's line to the broker (MQTT 3.1.1, clean session). It connects again by itself, at most every two seconds, when
 * {@link #ready} is asked; what is published while it is away is dropped, as a controller without a buffer does.
 */
final class BrokerLink implements AutoCloseable {

    private static final Logger LOG = LoggerFactory.getLogger(BrokerLink.class);
    private static final long RETRY_NS = 2_000_000_000L;
    private static final int IN_FLIGHT = 2000;

    private final String broker;
    private final String clientId;
    private MqttAsyncClient client;
    private long nextTryNs = System.nanoTime();

    BrokerLink(String broker, String clientId) {
        this.broker = broker.replaceFirst("^mqtt://", "tcp://").replaceFirst("^mqtts://", "ssl://");
        this.clientId = clientId;
    }

    /** A message that the broker sends for us when we vanish. */
    record Will(String topic, byte[] payload) {}

    /** What to do on a line that is new. */
    interface Opening {
        Optional<Will> will();

        void opened();
    }

    /** Whether the line is up; opens it if it is time to try. */
    synchronized boolean ready(Opening opening, BiConsumer<String, byte[]> received) {
        if (client != null && client.isConnected()) {
            return true;
        }
        if (System.nanoTime() - nextTryNs < 0) {
            return false;
        }
        nextTryNs = System.nanoTime() + RETRY_NS;
        try {
            closeClient();
            client = new MqttAsyncClient(broker, clientId, new MemoryPersistence());
            client.setCallback(new Incoming(received));
            client.connect(options(opening.will())).waitForCompletion(5000);
            opening.opened();
            return true;
        } catch (MqttException e) {
            LOG.warn("{} cannot reach {}: {}", clientId, broker, e.getMessage());
            return false;
        }
    }

    private static MqttConnectOptions options(Optional<Will> will) {
        MqttConnectOptions options = new MqttConnectOptions();
        options.setCleanSession(true);
        options.setMaxInflight(IN_FLIGHT);
        options.setConnectionTimeout(5);
        options.setKeepAliveInterval(30);
        will.ifPresent(w -> options.setWill(w.topic(), w.payload(), 1, false));
        return options;
    }

    synchronized void publish(String topic, byte[] payload, int qos) {
        try {
            client.publish(topic, payload, qos, false, null, new Quiet());
        } catch (MqttException e) {
            LOG.debug("{} dropped a message: {}", clientId, e.getMessage());
        }
    }

    synchronized void subscribe(String topic) {
        try {
            client.subscribe(topic, 1);
        } catch (MqttException e) {
            LOG.warn("{} cannot subscribe to {}: {}", clientId, topic, e.getMessage());
        }
    }

    @Override
    public synchronized void close() {
        closeClient();
    }

    private void closeClient() {
        if (client == null) {
            return;
        }
        try {
            if (client.isConnected()) {
                client.disconnect(500).waitForCompletion(2000);
            }
        } catch (MqttException e) {
            LOG.debug("{} did not disconnect cleanly: {}", clientId, e.getMessage());
        }
        try {
            client.close(true);
        } catch (MqttException e) {
            LOG.debug("{} did not close cleanly: {}", clientId, e.getMessage());
        }
    }

    private record Incoming(BiConsumer<String, byte[]> received) implements MqttCallback {

        @Override
        public void connectionLost(Throwable cause) {
            // The next ready() opens the line again.
        }

        @Override
        public void messageArrived(String topic, MqttMessage message) {
            received.accept(topic, message.getPayload());
        }

        @Override
        public void deliveryComplete(IMqttDeliveryToken token) {
            // Nothing waits for it.
        }
    }

    private static final class Quiet implements IMqttActionListener {

        @Override
        public void onSuccess(IMqttToken token) {
            // Nothing waits for it.
        }

        @Override
        public void onFailure(IMqttToken token, Throwable cause) {
            LOG.debug("a message was lost: {}", cause.getMessage());
        }
    }
}
