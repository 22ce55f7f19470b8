package io.loopwarden.oncall;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.store.alarm.OutboxMessage;
import java.time.Duration;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.jboss.logging.Logger;

/**
 * Sends from memory what the outbox cannot take, because a database that is down must not keep people asleep. Once the store is back the
 * same messages go through the outbox as well, with the same ids.
 */
final class DirectDelivery {

    private static final Logger LOG = Logger.getLogger(DirectDelivery.class);

    /** A store that restarts is waited for. */
    private static final Duration PATIENCE = Duration.ofSeconds(15);

    private static final int MOST_WAITING = 1000;

    private final Map<String, Channel> channels;
    private final ObjectMapper json;
    private final Set<String> sent = new HashSet<>();
    private final ExecutorService thread =
            new ThreadPoolExecutor(1, 1, 30, TimeUnit.SECONDS, new LinkedBlockingQueue<>(MOST_WAITING), task -> {
                Thread one = new Thread(task, "messages without store");
                one.setDaemon(true);
                return one;
            });
    private Instant awaySince;

    DirectDelivery(Map<String, Channel> channels, ObjectMapper json) {
        this.channels = Map.copyOf(channels);
        this.json = json;
    }

    void storeIsBack() {
        awaySince = null;
        sent.clear();
    }

    void whileStoreIsAway(List<OutboxMessage> messages, Instant at) {
        awaySince = awaySince == null ? at : awaySince;
        if (awaySince.plus(PATIENCE).isAfter(at)) {
            return;
        }
        for (OutboxMessage message : messages) {
            if (sent.size() < MOST_WAITING && sent.add(message.id() + " " + message.channel())) {
                thread.execute(() -> send(message));
            }
        }
    }

    private void send(OutboxMessage message) {
        try {
            channels.get(message.channel()).send(message, json.readValue(message.body(), Message.class));
            LOG.warnf("message %s was sent without the store", message.id());
        } catch (DeliveryException | JsonProcessingException e) {
            LOG.errorf("message %s could not be sent without the store: %s", message.id(), e.getMessage());
        }
    }
}
