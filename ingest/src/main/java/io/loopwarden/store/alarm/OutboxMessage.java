package io.loopwarden.store.alarm;

import java.time.Instant;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

/**
 * A message on its way over one channel.
 *
 * @param id the same for every channel and every attempt: whoever gets it twice can tell
 * @param kind what it tells, for example {@code alarm-high}; a person gets one of a kind for an incident
 * @param address what the channel needs to find the person
 * @param body what it says, JSON
 * @param state waiting, delivered or dead
 * @param nextAt when to try next
 */
public record OutboxMessage(
        UUID id,
        String channel,
        String incident,
        String person,
        String kind,
        String priority,
        String address,
        String body,
        Instant decidedAt,
        String state,
        int attempts,
        Instant nextAt,
        String lastError,
        Optional<Instant> deliveredAt) {

    public OutboxMessage {
        Objects.requireNonNull(id, "id");
        Objects.requireNonNull(channel, "channel");
        Objects.requireNonNull(incident, "incident");
        Objects.requireNonNull(person, "person");
        Objects.requireNonNull(kind, "kind");
        Objects.requireNonNull(priority, "priority");
        Objects.requireNonNull(address, "address");
        Objects.requireNonNull(body, "body");
        Objects.requireNonNull(decidedAt, "decidedAt");
        Objects.requireNonNull(state, "state");
        Objects.requireNonNull(nextAt, "nextAt");
        Objects.requireNonNull(lastError, "lastError");
        Objects.requireNonNull(deliveredAt, "deliveredAt");
    }

    /** One that has just been decided on. */
    public static OutboxMessage decided(
            UUID id,
            String channel,
            String incident,
            String person,
            String kind,
            String priority,
            String address,
            String body,
            Instant at) {
        return new OutboxMessage(
                id,
                channel,
                incident,
                person,
                kind,
                priority,
                address,
                body,
                at,
                "waiting",
                0,
                at,
                "",
                Optional.empty());
    }
}
