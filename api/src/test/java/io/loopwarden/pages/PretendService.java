package io.loopwarden.pages;

import io.vertx.core.Vertx;
import io.vertx.core.VertxOptions;
import io.vertx.core.http.HttpMethod;
import io.vertx.core.http.HttpServer;
import io.vertx.core.http.HttpServerOptions;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.core.http.ServerWebSocket;
import io.vertx.core.json.Json;
import io.vertx.core.json.JsonArray;
import io.vertx.core.json.JsonObject;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/** Serves the pages and a made-up fleet in the service's own formats, strictly confined to its own address. */
final class PretendService implements ServiceUnderTest {

    private static final String CONTENT_SECURITY_POLICY =
            "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self';"
                    + " base-uri 'none'; form-action 'self'; frame-ancestors 'none'";
    private static final Map<String, String> TYPES = Map.of(
            "html", "text/html; charset=utf-8", "css", "text/css", "js", "text/javascript", "svg", "image/svg+xml");

    private final Vertx vertx = Vertx.vertx(new VertxOptions().setEventLoopPoolSize(1));
    private final Map<ServerWebSocket, String> listeners = new ConcurrentHashMap<>();
    private final PretendFleet fleet;
    private final PretendAlarms alarms = new PretendAlarms();
    private final PretendHistory history = new PretendHistory();
    private final PretendSetup setup = new PretendSetup();
    private HttpServer server;
    private int port;

    PretendService(int units, int port) {
        this.fleet = new PretendFleet(units);
        this.port = port;
        comeBack();
        vertx.setPeriodic(1000, id -> push());
    }

    /** Serves until stopped, for looking at the pages while they are made: units and port as arguments. */
    public static void main(String[] arguments) {
        System.out.println(
                new PretendService(Integer.parseInt(arguments[0]), Integer.parseInt(arguments[1])).address());
    }

    @Override
    public URI address() {
        return URI.create("http://127.0.0.1:" + port + "/");
    }

    @Override
    public void goAway() {
        server.close().toCompletionStage().toCompletableFuture().join();
        listeners.clear();
    }

    @Override
    public void comeBack() {
        server = vertx.createHttpServer(
                        new HttpServerOptions().setHost("127.0.0.1").setPort(port))
                .requestHandler(this::answer)
                .webSocketHandler(this::listen);
        port = server.listen().toCompletionStage().toCompletableFuture().join().actualPort();
    }

    @Override
    public void close() {
        vertx.close().toCompletionStage().toCompletableFuture().join();
    }

    private void listen(ServerWebSocket socket) {
        listeners.put(socket, "");
        socket.textMessageHandler(text -> listeners.put(socket, new JsonObject(text).getString("unit", "")));
        socket.closeHandler(closed -> listeners.remove(socket));
    }

    private void push() {
        Instant now = Instant.now();
        fleet.step(now);
        String rows = new JsonObject()
                .put("type", "fleet")
                .put("at", now.toString())
                .put("units", new JsonArray(fleet.rows()))
                .encode();
        listeners.forEach((socket, unit) -> {
            socket.writeTextMessage(rows);
            fleet.rows().stream()
                    .filter(row -> row.getString("id").equals(unit))
                    .forEach(row -> socket.writeTextMessage(new JsonObject()
                            .put("type", "unit")
                            .put("unit", fleet.unit(row, now))
                            .encode()));
        });
    }

    private void answer(HttpServerRequest request) {
        request.response().putHeader("Content-Security-Policy", CONTENT_SECURITY_POLICY);
        String path = request.path();
        Instant now = Instant.now();
        if (path.equals("/api/v1/fleet")) {
            json(
                    request,
                    new JsonObject()
                            .put("at", now.toString())
                            .put(
                                    "site",
                                    new JsonObject()
                                            .put("name", "Weather forecast centre")
                                            .put("zone", "+01:00"))
                            .put("units", new JsonArray(fleet.rows())));
        } else if (answeredFromHistory(request, path, now) || answeredFromSetup(request, path)) {
            return;
        } else if (path.startsWith("/api/v1/units/")) {
            String id = path.substring("/api/v1/units/".length());
            fleet.rows().stream()
                    .filter(row -> row.getString("id").equals(id))
                    .findFirst()
                    .ifPresentOrElse(
                            row -> json(request, fleet.unit(row, now)),
                            () -> unknown(request, "There is no unit " + id + "."));
        } else if (path.equals("/api/v1/me")) {
            json(
                    request,
                    new JsonObject().put("name", "mara").put("role", "engineer").put("csrf", "0"));
        } else if (PretendAlarms.answers(path)) {
            request.response()
                    .putHeader("Content-Type", "application/json")
                    .end(Json.encode(alarms.answer(request.method().name(), path, now)));
        } else if (path.equals("/api/v1/data-quality")) {
            json(request, new JsonObject(text("/io/loopwarden/pages/data-quality.json")));
        } else {
            page(request, path.equals("/") ? "/index.html" : path);
        }
    }

    private JsonObject series(HttpServerRequest request, Instant now) {
        String[] path = request.path().split("/");
        boolean figure = path[5].equals("figures");
        JsonObject unit = fleet.unit(fleet.rows().get(0), now);
        JsonObject shown = figure
                ? unit.getJsonObject("figures")
                        .getJsonObject(
                                path[6], new JsonObject().put("value", 0.94).put("unit", "1"))
                : unit.getJsonArray("points").stream()
                        .map(JsonObject.class::cast)
                        .filter(each -> each.getString("point").equals(path[6]))
                        .findFirst()
                        .orElseThrow();
        double last = path[6].equals("fouling-resistance") ? 6.1e-7 : shown.getDouble("value");
        return history.series(
                Instant.parse(request.getParam("from")),
                Instant.parse(request.getParam("to")),
                last,
                shown.getString("unit"),
                figure);
    }

    /** The parts of the history that pages read and write. */
    private boolean answeredFromHistory(HttpServerRequest request, String path, Instant now) {
        String[] parts = path.split("/");
        boolean ofUnit = path.startsWith("/api/v1/units/") && parts.length > 5;
        if (path.equals("/api/v1/data-quality/units")) {
            json(request, PretendHistory.unitQuality());
        } else if (path.startsWith("/api/v1/data-quality/units/")) {
            json(request, PretendHistory.pointQuality(now));
        } else if (path.equals("/api/v1/maintenance")) {
            json(request, history.maintenance());
        } else if (ofUnit && parts[5].equals("events")) {
            json(request, history.events(now));
        } else if (path.equals("/api/v1/compare")) {
            json(request, history.compare(now));
        } else if (ofUnit && parts[5].equals("evidence")) {
            json(request, history.evidence(now));
        } else if (ofUnit
                && parts[5].equals("maintenance")
                && request.method() == HttpMethod.GET
                && parts.length == 6) {
            json(request, history.maintenance());
        } else if (path.equals("/api/v1/plan")) {
            json(request, history.plan(now));
        } else if (ofUnit && path.endsWith("/result")) {
            json(request, history.result(now.minus(Duration.ofDays(62))));
        } else if (path.endsWith("/series")) {
            json(request, series(request, now));
        } else if (ofUnit && parts[5].equals("forecasts")) {
            json(request, history.forecasts(parts[4], now));
        } else if (ofUnit && parts[5].equals("maintenance") && request.method() == HttpMethod.POST) {
            request.bodyHandler(body -> json(
                    request,
                    parts.length > 6
                            ? history.withdraw(parts[4], parts[6], body.toJsonObject())
                            : history.write(parts[4], body.toJsonObject())));
        } else {
            return false;
        }
        return true;
    }

    /** The steps of adding a unit. */
    private boolean answeredFromSetup(HttpServerRequest request, String path) {
        switch (path) {
            case "/api/v1/setup" -> json(request, setup.choices());
            case "/api/v1/setup/look" -> json(request, setup.look());
            case "/api/v1/setup/proposal" ->
                request.bodyHandler(body -> json(request, setup.proposal(body.toJsonObject())));
            case "/api/v1/setup/check" -> request.bodyHandler(body -> json(request, setup.check(body.toJsonObject())));
            case "/api/v1/setup/units" ->
                request.bodyHandler(body -> json(
                        request,
                        new JsonObject().put("unit", body.toJsonObject().getString("id"))));
            default -> {
                return false;
            }
        }
        return true;
    }

    private static void json(HttpServerRequest request, JsonArray body) {
        request.response().putHeader("Content-Type", "application/json").end(body.encode());
    }

    private static void json(HttpServerRequest request, JsonObject body) {
        request.response().putHeader("Content-Type", "application/json").end(body.encode());
    }

    private static void unknown(HttpServerRequest request, String detail) {
        request.response()
                .setStatusCode(404)
                .putHeader("Content-Type", "application/problem+json")
                .end(new JsonObject()
                        .put("title", "Not found")
                        .put("status", 404)
                        .put("detail", detail)
                        .encode());
    }

    private static void page(HttpServerRequest request, String path) {
        String body = path.contains("..") ? null : text("/META-INF/resources" + path);
        if (body == null) {
            unknown(request, "There is no page " + path + ".");
        } else {
            String type = TYPES.getOrDefault(path.substring(path.lastIndexOf('.') + 1), "text/plain");
            request.response().putHeader("Content-Type", type).end(body);
        }
    }

    private static String text(String resource) {
        try (InputStream stream = PretendService.class.getResourceAsStream(resource)) {
            return stream == null ? null : new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
