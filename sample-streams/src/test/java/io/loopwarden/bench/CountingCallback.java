package io.loopwarden.bench;

import java.util.concurrent.atomic.AtomicLong;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttMessage;

/** Counts messages and does nothing else. */
record CountingCallback(AtomicLong count) implements MqttCallback {

    @Override
    public void messageArrived(String topic, MqttMessage message) {
        count.incrementAndGet();
    }

    @Override
    public void connectionLost(Throwable cause) {}

    @Override
    public void deliveryComplete(IMqttDeliveryToken token) {}
}
