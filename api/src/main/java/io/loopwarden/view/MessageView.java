package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.store.alarm.OutboxMessage;
import java.time.Instant;

/** A message as it leaves for the pages: to whom, over what, and what became of it; not what it says, which holds a link that acts. */
@JsonInclude(JsonInclude.Include.NON_EMPTY)
public record MessageView(
        String id,
        String incident,
        String person,
        String kind,
        String priority,
        String channel,
        String state,
        int attempts,
        Instant decidedAt,
        Instant nextAt,
        Instant deliveredAt,
        String error) {

    public static MessageView of(OutboxMessage message) {
        return new MessageView(
                message.id().toString(),
                message.incident(),
                message.person(),
                message.kind(),
                message.priority().toLowerCase(java.util.Locale.ROOT),
                message.channel(),
                message.state(),
                message.attempts(),
                message.decidedAt(),
                message.state().equals("waiting") ? message.nextAt() : null,
                message.deliveredAt().orElse(null),
                message.lastError());
    }
}
