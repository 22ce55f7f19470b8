package io.loopwarden.system;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;

/** Takes the service's messages over HTTP on loopback, for one person on call, and notes when each came. */
final class Taker implements AutoCloseable {

    record Taken(Instant at, JsonNode event) {
        String incident() {
            return event.at("/data/incident").asText();
        }

        String place() {
            return event.at("/data/place").asText();
        }

        String group() {
            return event.at("/data/title").asText();
        }
    }

    private static final ObjectMapper JSON = new ObjectMapper();

    final List<Taken> taken = new CopyOnWriteArrayList<>();
    private final HttpServer server;
    private final ExecutorService threads = Executors.newFixedThreadPool(4);

    Taker() {
        try {
            server = HttpServer.create(new InetSocketAddress("127.0.0.1", 0), 0);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        server.setExecutor(threads);
        server.createContext("/", this::take);
        server.start();
    }

    /** Writes channels and a plan that bring every message here. */
    void putInto(Path fleet) throws IOException {
        Path secret = fleet.resolve("webhook.secret");
        Files.writeString(secret, "a key of the test, long enough");
        Files.writeString(fleet.resolve("channels.yaml"), """
                channels:
                  - {name: taker, kind: webhook, url: "http://127.0.0.1:%d/", secret-file: "%s"}
                """.formatted(
                        server.getAddress().getPort(), secret));
        Files.writeString(fleet.resolve("on-call.yaml"), """
                operators: 1
                people: [{id: ines, name: Ines Test, zone: "Z", contacts: [{channel: taker}]}]
                chains: [{name: cooling, steps: [{after: PT0S, tell: ["person:ines"]}]}]
                """);
    }

    private void take(HttpExchange exchange) throws IOException {
        try (exchange) {
            taken.add(new Taken(Instant.now(), JSON.readTree(exchange.getRequestBody())));
            exchange.sendResponseHeaders(204, -1);
        }
    }

    @Override
    public void close() {
        server.stop(0);
        threads.shutdownNow();
    }
}
