package io.loopwarden.mqtt.payload;

import io.loopwarden.collector.RejectReason;
import java.util.Objects;

/** One value, or a whole message, that is not handed on, and why. */
public record Refusal(RejectReason reason, String detail) {

    public Refusal {
        Objects.requireNonNull(reason, "reason");
        Objects.requireNonNull(detail, "detail");
    }
}
