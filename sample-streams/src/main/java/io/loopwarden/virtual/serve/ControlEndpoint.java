package io.loopwarden.virtual.serve;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import io.loopwarden.fleet.PointName;
import io.loopwarden.virtual.LiveFleet;
import io.loopwarden.virtual.scenario.FaultFields;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetSocketAddress;
import java.time.Instant;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;

/**
 * The tests' hand inside the virtual controllers, on loopback only: set what a sensor shows, move it, inject a fault, read the truth.
 * Every change answers the time it was shown to the outside.
 */
public final class ControlEndpoint implements AutoCloseable {

    private static final int LARGEST_BODY = 10_000;

    private final ObjectMapper json = new ObjectMapper();
    private final LiveFleet fleet;
    private final HttpServer server;
    private final ExecutorService threads = Executors.newFixedThreadPool(2);

    public ControlEndpoint(LiveFleet fleet, int port) {
        this.fleet = fleet;
        try {
            server = HttpServer.create(new InetSocketAddress("127.0.0.1", port), 0);
        } catch (IOException e) {
            throw new UncheckedIOException("the control endpoint cannot listen on port " + port, e);
        }
        server.setExecutor(threads);
        server.createContext("/", this::handle);
        server.start();
    }

    public String address() {
        return "http://127.0.0.1:" + server.getAddress().getPort();
    }

    private void handle(HttpExchange exchange) throws IOException {
        try (exchange) {
            Object answer;
            int status = 200;
            try {
                answer = answer(exchange);
            } catch (NoSuchElementException e) {
                status = 404;
                answer = Map.of("error", e.getMessage());
            } catch (IllegalArgumentException | com.fasterxml.jackson.core.JacksonException e) {
                status = 400;
                answer = Map.of("error", String.valueOf(e.getMessage()));
            }
            byte[] body = json.writeValueAsBytes(answer);
            exchange.getResponseHeaders().set("Content-Type", "application/json");
            exchange.sendResponseHeaders(status, body.length);
            exchange.getResponseBody().write(body);
        }
    }

    private Object answer(HttpExchange exchange) throws IOException {
        String[] path = exchange.getRequestURI().getPath().substring(1).split("/");
        boolean unit = path.length >= 2 && path[0].equals("units");
        if (exchange.getRequestMethod().equals("GET")) {
            if (unit && path.length == 3 && path[2].equals("truth")) {
                return Truths.json(path[1], fleet.truth(path[1]));
            }
            if (path.length == 1 && path[0].equals("units")) {
                return fleet.ids();
            }
        }
        if (exchange.getRequestMethod().equals("POST") && unit && path.length >= 3) {
            JsonNode body = json.readTree(exchange.getRequestBody().readNBytes(LARGEST_BODY));
            return set(change(path, body));
        }
        throw new NoSuchElementException(
                exchange.getRequestMethod() + " /" + String.join("/", path) + " is not known; see the module's README");
    }

    private Instant change(String[] path, JsonNode body) {
        String id = path[1];
        switch (path[2]) {
            case "points" -> {
                PointName point = PointName.of(path.length > 3 ? path[3] : "");
                JsonNode value = body.path("value");
                return fleet.change(id, unit -> unit.override(point, value.isNull() ? Double.NaN : number(value)));
            }
            case "sensor-offset" -> {
                PointName point = PointName.of(body.path("point").asText());
                return fleet.change(id, unit -> unit.setSensorOffset(point, number(body.path("offset"))));
            }
            case "facility" -> {
                return fleet.change(id, unit -> unit.warmFacility(number(body.path("warmerK"))));
            }
            case "fault" -> {
                Map<?, ?> fields = json.convertValue(body, Map.class);
                return fleet.change(
                        id,
                        unit -> unit.addFault(FaultFields.of(fields, unit.now().toEpochMilli() / 1000.0)));
            }
            default ->
                throw new NoSuchElementException("'" + path[2] + "' is not points, sensor-offset, facility or fault");
        }
    }

    private static double number(JsonNode node) {
        if (!node.isNumber()) {
            throw new IllegalArgumentException("a number is needed, in the point's inner unit, not " + node);
        }
        return node.doubleValue();
    }

    private static Map<String, Object> set(Instant at) {
        return Map.of("at", at.toString(), "epochMillis", at.toEpochMilli());
    }

    @Override
    public void close() {
        server.stop(0);
        threads.shutdownNow();
    }
}
