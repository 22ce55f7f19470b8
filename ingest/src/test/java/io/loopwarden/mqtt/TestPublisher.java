package io.loopwarden.mqtt;

import java.nio.charset.StandardCharsets;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/** The controller's side: connects for each burst, publishes with QoS 1, waits until the broker has taken all of it. */
final class TestPublisher {

    static final String CLIENT_ID = "test-publisher";

    private TestPublisher() {}

    static void publish(TestBroker broker, String topic, String... payloads) throws MqttException {
        byte[][] bytes = new byte[payloads.length][];
        for (int i = 0; i < payloads.length; i++) {
            bytes[i] = payloads[i].getBytes(StandardCharsets.UTF_8);
        }
        publish(broker, topic, 1, false, bytes);
    }

    static void publish(TestBroker broker, String topic, int qos, boolean retained, byte[]... payloads)
            throws MqttException {
        MqttAsyncClient client =
                new MqttAsyncClient("tcp://127.0.0.1:" + broker.port(), CLIENT_ID, new MemoryPersistence());
        MqttConnectOptions options = new MqttConnectOptions();
        options.setMaxInflight(1000);
        client.connect(options).waitForCompletion(10_000);
        IMqttDeliveryToken[] tokens = new IMqttDeliveryToken[payloads.length];
        for (int i = 0; i < payloads.length; i++) {
            tokens[i] = client.publish(topic, payloads[i], qos, retained);
        }
        for (IMqttDeliveryToken token : tokens) {
            token.waitForCompletion(10_000);
        }
        client.disconnect().waitForCompletion(10_000);
        client.close();
    }
}
