package io.loopwarden.live;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.fleet.UnitId;
import io.quarkus.websockets.next.OnClose;
import io.quarkus.websockets.next.OnOpen;
import io.quarkus.websockets.next.OnTextMessage;
import io.quarkus.websockets.next.WebSocket;
import io.quarkus.websockets.next.WebSocketConnection;
import java.util.Optional;
import java.util.concurrent.CompletionStage;
import org.jboss.logging.Logger;

/** Pages connect here and are told what changes; a page may name one unit it wants in full. */
@WebSocket(path = "/api/v1/live")
public class LiveSocket {

    private static final Logger LOG = Logger.getLogger(LiveSocket.class);

    private final LivePush push;
    private final ObjectMapper json;

    LiveSocket(LivePush push, ObjectMapper json) {
        this.push = push;
        this.json = json;
    }

    @OnOpen
    void open(WebSocketConnection connection) {
        push.opened(new SocketChannel(connection));
    }

    @OnClose
    void close(WebSocketConnection connection) {
        push.closed(connection.id());
    }

    /** {@code {"unit":"E-07"}} asks for that unit in full, {@code {}} for the fleet only; anything else is ignored. */
    @OnTextMessage
    void message(String text, WebSocketConnection connection) {
        try {
            JsonNode unit = json.readTree(text).path("unit");
            push.focus(
                    connection.id(), unit.isTextual() ? Optional.of(new UnitId(unit.textValue())) : Optional.empty());
        } catch (JsonProcessingException | IllegalArgumentException e) {
            LOG.debugf("a page sent a message that is not understood: %s", e.getMessage());
        }
    }

    private record SocketChannel(WebSocketConnection connection) implements LivePush.Channel {
        @Override
        public String id() {
            return connection.id();
        }

        @Override
        public CompletionStage<Void> send(String text) {
            return connection.sendText(text).subscribeAsCompletionStage();
        }

        @Override
        public void drop() {
            connection
                    .close()
                    .subscribe()
                    .with(done -> {}, failure -> LOG.debug("closing a slow page failed", failure));
        }
    }
}
