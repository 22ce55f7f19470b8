package io.loopwarden.mqtt;

import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.FoundTag;
import io.loopwarden.mqtt.payload.Arrival;
import io.loopwarden.mqtt.payload.TagFinder;
import java.io.IOException;
import java.time.Clock;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;

/** Listens to a broker for a moment under a name of its own, to see which tags there are. Publishes nothing. */
public final class MqttLook {

    private MqttLook() {}

    /**
     * @throws ConfigurationException with every fault of the connection's settings
     * @throws IOException if the broker cannot be reached or refuses; the message says which
     */
    public static List<FoundTag> listen(Connection connection, Duration during, Clock clock)
            throws IOException, InterruptedException {
        Map<String, String> own = new HashMap<>(connection.settings());
        own.put("client-id", "loopwarden-look-" + Long.toString(new Random().nextLong() >>> 1, 36));
        own.put("session-expiry", "PT1S");
        MqttSettings settings = MqttSettings.from(
                new Connection(connection.name(), connection.protocol(), connection.endpoint(), own, List.of()));
        TagFinder finder =
                new TagFinder(settings.payload() == MqttSettings.Payload.SPARKPLUG, settings.maxPayloadBytes());
        MqttLink.Listener listener = new MqttLink.Listener() {
            @Override
            public void arrived(
                    String topic, byte[] payload, boolean retained, boolean redelivered, Runnable acknowledge) {
                synchronized (finder) {
                    finder.take(new Arrival(topic, payload, retained, redelivered, clock.instant()));
                }
                acknowledge.run();
            }

            @Override
            public void lost(String why) {
                synchronized (finder) {
                    finder.notifyAll();
                }
            }
        };
        MqttLink link = null;
        try {
            link = settings.version() == MqttSettings.Version.V5
                    ? new Mqtt5Link(settings, listener)
                    : new Mqtt311Link(settings, listener);
            link.open();
            synchronized (finder) {
                finder.wait(during.toMillis());
                return finder.found();
            }
        } catch (LinkException e) {
            throw new IOException(e.getMessage(), e);
        } finally {
            if (link != null) {
                link.close();
            }
        }
    }
}
