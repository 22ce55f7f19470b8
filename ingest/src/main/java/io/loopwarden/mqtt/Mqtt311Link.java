package io.loopwarden.mqtt;

import java.io.IOException;
import java.security.GeneralSecurityException;
import java.util.Arrays;
import org.eclipse.paho.client.mqttv3.IMqttActionListener;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.IMqttToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/** A connection by MQTT 3.1.1. */
final class Mqtt311Link implements MqttLink, MqttCallback {

    private static final int REFUSED = 0x80;

    private final MqttSettings settings;
    private final Listener listener;
    private final MqttAsyncClient client;

    Mqtt311Link(MqttSettings settings, Listener listener) throws LinkException {
        this.settings = settings;
        this.listener = listener;
        try {
            String scheme = settings.tls().isPresent() ? "ssl" : "tcp";
            this.client = new MqttAsyncClient(
                    scheme + "://" + settings.host() + ":" + settings.port(),
                    settings.clientId(),
                    new MemoryPersistence());
        } catch (MqttException | IllegalArgumentException e) {
            throw new LinkException(LinkException.sentence("cannot make a client for " + settings.address(), e), e);
        }
        client.setManualAcks(true);
        client.setCallback(this);
    }

    @Override
    public void open() throws LinkException {
        long timeoutMs = settings.connectTimeout().toMillis();
        boolean resumed = connect(timeoutMs);
        String[] filters = settings.topics().toArray(String[]::new);
        int[] qos = new int[filters.length];
        Arrays.fill(qos, 1);
        try {
            if (resumed) {
                // What the session kept may stand before the answer, and wait for the disk: do not wait for it here.
                client.subscribe(filters, qos, null, new Subscribed());
            } else {
                IMqttToken granted = client.subscribe(filters, qos);
                granted.waitForCompletion(timeoutMs);
                checkGranted(granted);
            }
        } catch (MqttException e) {
            throw new LinkException(LinkException.sentence(cannotSubscribe(), e), e);
        }
    }

    /** @return whether the broker still had our session */
    private boolean connect(long timeoutMs) throws LinkException {
        try {
            IMqttToken connected = client.connect(options(settings));
            connected.waitForCompletion(timeoutMs);
            return connected.getSessionPresent();
        } catch (MqttException | IOException | GeneralSecurityException e) {
            throw new LinkException(LinkException.sentence("cannot connect to " + settings.address(), e), e);
        }
    }

    private void checkGranted(IMqttToken granted) throws LinkException {
        for (int i = 0; i < settings.topics().size(); i++) {
            if (granted.getGrantedQos()[i] >= REFUSED) {
                throw new LinkException(
                        cannotSubscribe() + ": the broker refuses topic filter "
                                + settings.topics().get(i),
                        null);
            }
        }
    }

    private String cannotSubscribe() {
        return "cannot subscribe at " + settings.address();
    }

    private final class Subscribed implements IMqttActionListener {
        @Override
        public void onSuccess(IMqttToken token) {
            try {
                checkGranted(token);
            } catch (LinkException e) {
                listener.lost(e.getMessage());
            }
        }

        @Override
        public void onFailure(IMqttToken token, Throwable failure) {
            listener.lost(LinkException.sentence(cannotSubscribe(), failure));
        }
    }

    static MqttConnectOptions options(MqttSettings settings) throws IOException, GeneralSecurityException {
        MqttConnectOptions options = new MqttConnectOptions();
        options.setMqttVersion(MqttConnectOptions.MQTT_VERSION_3_1_1);
        options.setCleanSession(false);
        options.setAutomaticReconnect(false);
        options.setKeepAliveInterval((int) settings.keepAlive().toSeconds());
        options.setConnectionTimeout((int) settings.connectTimeout().toSeconds());
        if (settings.userName().isPresent()) {
            options.setUserName(settings.userName().get());
            settings.password().read().ifPresent(password -> options.setPassword(password.toCharArray()));
        }
        if (settings.tls().isPresent()) {
            options.setSocketFactory(PemTls.socketFactory(settings.tls().get()));
            options.setHttpsHostnameVerificationEnabled(true);
        }
        return options;
    }

    @Override
    public void messageArrived(String topic, MqttMessage message) {
        int id = message.getId();
        Runnable acknowledge = message.getQos() == 0 ? NO_ACKNOWLEDGEMENT : () -> acknowledge(id, message.getQos());
        listener.arrived(topic, message.getPayload(), message.isRetained(), message.isDuplicate(), acknowledge);
    }

    private void acknowledge(int id, int qos) {
        try {
            client.messageArrivedComplete(id, qos);
        } catch (MqttException e) {
            listener.lost(LinkException.sentence("cannot acknowledge at " + settings.address(), e));
        }
    }

    @Override
    public void connectionLost(Throwable cause) {
        listener.lost(LinkException.sentence("lost " + settings.address(), cause));
    }

    @Override
    public void deliveryComplete(IMqttDeliveryToken token) {
        // only for those who publish
    }

    @Override
    public void close() {
        try {
            if (client.isConnected()) {
                client.disconnect(0).waitForCompletion(1000);
            } else {
                // It may be connecting: it must not come up later and take the client id away from its successor.
                client.disconnectForcibly(0, 1, false);
            }
        } catch (MqttException e) {
            forceDisconnect();
        }
        try {
            client.close(true);
        } catch (MqttException e) {
            // a connect still under way ends by its own time-out
        }
    }

    private void forceDisconnect() {
        try {
            client.disconnectForcibly(0, 1, false);
        } catch (MqttException e) {
            // it is gone either way
        }
    }
}
