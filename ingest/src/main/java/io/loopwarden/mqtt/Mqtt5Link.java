package io.loopwarden.mqtt;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttCallback;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.MqttSubscription;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;

/** A connection by MQTT 5. */
final class Mqtt5Link implements MqttLink, MqttCallback {

    /** What the broker may send at all; beyond it drops the message itself (MQTT 5, 3.1.2.11.4). */
    private static final long MAX_PACKET_BYTES = 32L * 1024 * 1024;

    private static final int REFUSED = 0x80;
    private static final int RETAINED_ONLY_WHEN_NEW = 1;

    private final MqttSettings settings;
    private final Listener listener;
    private final MqttAsyncClient client;

    Mqtt5Link(MqttSettings settings, Listener listener) throws LinkException {
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
        MqttSubscription[] subscriptions =
                settings.topics().stream().map(Mqtt5Link::subscription).toArray(MqttSubscription[]::new);
        try {
            if (resumed) {
                // What the session kept may stand before the answer, and wait for the disk: do not wait for it here.
                client.subscribe(subscriptions, null, new Subscribed(), new MqttProperties());
            } else {
                IMqttToken granted = client.subscribe(subscriptions);
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
            IMqttToken connected = client.connect(options());
            connected.waitForCompletion(timeoutMs);
            return connected.getSessionPresent();
        } catch (MqttException | IOException | GeneralSecurityException e) {
            throw new LinkException(LinkException.sentence("cannot connect to " + settings.address(), e), e);
        }
    }

    private void checkGranted(IMqttToken granted) throws LinkException {
        for (int i = 0; i < settings.topics().size(); i++) {
            int code = granted.getReasonCodes()[i];
            if (code >= REFUSED) {
                throw new LinkException(
                        String.format(
                                "%s: the broker refuses topic filter %s with code 0x%02X",
                                cannotSubscribe(), settings.topics().get(i), code),
                        null);
            }
        }
    }

    private String cannotSubscribe() {
        return "cannot subscribe at " + settings.address();
    }

    private final class Subscribed implements MqttActionListener {
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

    private static MqttSubscription subscription(String filter) {
        MqttSubscription subscription = new MqttSubscription(filter, 1);
        subscription.setRetainHandling(RETAINED_ONLY_WHEN_NEW);
        return subscription;
    }

    private MqttConnectionOptions options() throws IOException, GeneralSecurityException {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(false);
        options.setSessionExpiryInterval(settings.sessionExpiry().toSeconds());
        options.setReceiveMaximum(settings.maxInFlight());
        options.setMaximumPacketSize(MAX_PACKET_BYTES);
        options.setAutomaticReconnect(false);
        options.setKeepAliveInterval((int) settings.keepAlive().toSeconds());
        options.setConnectionTimeout((int) settings.connectTimeout().toSeconds());
        if (settings.userName().isPresent()) {
            options.setUserName(settings.userName().get());
            settings.password()
                    .read()
                    .ifPresent(password -> options.setPassword(password.getBytes(StandardCharsets.UTF_8)));
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
    public void disconnected(MqttDisconnectResponse response) {
        if (response.getException() != null) {
            listener.lost(LinkException.sentence("lost " + settings.address(), response.getException()));
            return;
        }
        String reason = response.getReasonString() == null ? "" : " (" + response.getReasonString() + ")";
        listener.lost(String.format(
                "%s closed the connection with code 0x%02X%s%s",
                settings.address(),
                response.getReturnCode(),
                reason,
                response.getReturnCode() == 0x8E
                        ? ": client id '" + settings.clientId() + "' is in use elsewhere"
                        : ""));
    }

    @Override
    public void mqttErrorOccurred(MqttException exception) {
        listener.lost(LinkException.sentence("protocol error at " + settings.address(), exception));
    }

    @Override
    public void deliveryComplete(IMqttToken token) {
        // only for those who publish
    }

    @Override
    public void connectComplete(boolean reconnect, String serverUri) {
        // open() waits for it
    }

    @Override
    public void authPacketArrived(int reasonCode, MqttProperties properties) {
        // extended authentication is not offered
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
