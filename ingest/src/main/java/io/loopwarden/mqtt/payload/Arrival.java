package io.loopwarden.mqtt.payload;

import java.time.Instant;
import java.util.Objects;

/**
 * One message as the broker handed it over.
 *
 * @param retained the broker had kept it; how old it is only its payload can say
 * @param redelivered the broker has sent it before and got no acknowledgement
 * @param receivedAt our clock
 */
public record Arrival(String topic, byte[] payload, boolean retained, boolean redelivered, Instant receivedAt) {

    public Arrival {
        Objects.requireNonNull(topic, "topic");
        Objects.requireNonNull(payload, "payload");
        Objects.requireNonNull(receivedAt, "receivedAt");
    }
}
