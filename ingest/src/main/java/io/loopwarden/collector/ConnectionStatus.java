package io.loopwarden.collector;

import java.time.Instant;
import java.util.Objects;
import java.util.Optional;

/**
 * How a connection is doing.
 *
 * @param connection its name in the fleet file
 * @param since when {@code state} began
 * @param lastDataAt when anything last came, our clock
 * @param detail one sentence: what is wrong and what to do; empty when all is well
 */
public record ConnectionStatus(
        String connection, String protocol, State state, Instant since, Optional<Instant> lastDataAt, String detail) {

    public enum State {
        CONNECTING,
        CONNECTED,
        LOST,
        CLOSED
    }

    public ConnectionStatus {
        Objects.requireNonNull(connection, "connection");
        Objects.requireNonNull(protocol, "protocol");
        Objects.requireNonNull(state, "state");
        Objects.requireNonNull(since, "since");
        Objects.requireNonNull(lastDataAt, "lastDataAt");
        Objects.requireNonNull(detail, "detail");
    }
}
