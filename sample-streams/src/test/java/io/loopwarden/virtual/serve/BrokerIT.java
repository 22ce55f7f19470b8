package io.loopwarden.virtual.serve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttCallback;
import org.eclipse.paho.mqttv5.client.MqttClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BrokerIT {

    @Test
    void sessionsAndQueuedMessagesOutliveARestart(@TempDir Path folder) throws Exception {
        int port;
        try (Broker broker = Broker.start(folder, 0)) {
            port = Integer.parseInt(broker.address().replaceAll(".*:", ""));
            MqttClient reader = connect(port, "reader", new ConcurrentLinkedQueue<>());
            reader.subscribe("a/b", 1);
            reader.disconnect();
            reader.close();
            MqttClient writer = connect(port, "writer", new ConcurrentLinkedQueue<>());
            for (int i = 0; i < 20; i++) {
                writer.publish("a/b", ("m" + i).getBytes(StandardCharsets.UTF_8), 1, false);
            }
            writer.disconnect();
            writer.close();
        }
        Queue<String> received = new ConcurrentLinkedQueue<>();
        try (Broker again = Broker.start(folder, port)) {
            assertThat(again.address()).endsWith(":" + port);
            MqttClient reader = connect(port, "reader", received);
            await().atMost(Duration.ofSeconds(20)).until(() -> received.size() == 20);
            assertThat(received).startsWith("m0", "m1").endsWith("m19");
            reader.disconnect();
            reader.close();
        }
    }

    private static MqttClient connect(int port, String id, Queue<String> received) throws Exception {
        MqttClient client = new MqttClient("tcp://127.0.0.1:" + port, id, new MemoryPersistence());
        client.setCallback(new Recorder(received));
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(false);
        options.setSessionExpiryInterval(3600L);
        client.connect(options);
        return client;
    }

    private record Recorder(Queue<String> received) implements MqttCallback {

        @Override
        public void messageArrived(String topic, MqttMessage message) {
            received.add(new String(message.getPayload(), StandardCharsets.UTF_8));
        }

        @Override
        public void disconnected(MqttDisconnectResponse response) {}

        @Override
        public void mqttErrorOccurred(MqttException exception) {}

        @Override
        public void deliveryComplete(IMqttToken token) {}

        @Override
        public void connectComplete(boolean reconnect, String serverUri) {}

        @Override
        public void authPacketArrived(int reasonCode, MqttProperties properties) {}
    }
}
