package io.loopwarden.system;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.awaitility.Awaitility;

/** The packaged service as a process, on a free loopback port. */
public final class Service implements AutoCloseable {

    private static final HttpClient HTTP =
            HttpClient.newBuilder().connectTimeout(Duration.ofSeconds(5)).build();
    private static final ObjectMapper JSON = new ObjectMapper();

    private final Path fleet;
    private final Path folder;
    private final int port;
    private final List<String> options;
    private Launched process;

    /** Anybody may look, so that a test which only reads need not sign in. */
    public Service(Path fleet, Path folder) {
        this(fleet, folder, List.of("-Dloopwarden.security.view-without-sign-in=true"));
    }

    Service(Path fleet, Path folder, List<String> options) {
        this.fleet = fleet;
        this.folder = folder;
        this.options = options;
        this.port = freePort();
    }

    static int freePort() {
        try (ServerSocket socket = new ServerSocket(0)) {
            return socket.getLocalPort();
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    public Service start() {
        List<String> arguments = new ArrayList<>(List.of(
                "-Xmx512m",
                "-Dquarkus.http.host=127.0.0.1",
                "-Dquarkus.http.port=" + port,
                "-Dloopwarden.fleet=" + fleet,
                "-Dloopwarden.data=" + folder.resolve("data")));
        arguments.addAll(options);
        arguments.addAll(List.of(
                "-jar",
                Repository.root()
                        .resolve("api/target/quarkus-app/quarkus-run.jar")
                        .toString()));
        process = Launched.java("service", folder, arguments);
        Awaitility.await("service answers on port " + port)
                .atMost(Duration.ofSeconds(60))
                .pollInterval(Duration.ofMillis(100))
                .failFast(process::requireAlive)
                .until(() -> statusOf("/q/health/live") == 200);
        return this;
    }

    public void kill() {
        process.kill();
    }

    /** Becomes the first administrator, which works once a data folder. */
    public Account administrator() {
        String token = process.awaitLine("sign-in\\.html#token=(\\S+)", Duration.ofSeconds(10))
                .group(1);
        return Account.redeem(this, token, "admin");
    }

    String log() {
        return process.output();
    }

    public URI address(String path) {
        return URI.create("http://127.0.0.1:" + port + path);
    }

    public int statusOf(String path) {
        try {
            return send(HttpRequest.newBuilder(address(path)).build()).statusCode();
        } catch (IOException e) {
            return -1;
        }
    }

    public JsonNode get(String path) {
        try {
            HttpResponse<String> response =
                    send(HttpRequest.newBuilder(address(path)).build());
            if (response.statusCode() != 200) {
                throw new IllegalStateException(path + " answered " + response.statusCode() + " " + response.body());
            }
            return JSON.readTree(response.body());
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    static HttpResponse<String> send(HttpRequest request) throws IOException {
        try {
            return HTTP.send(request, HttpResponse.BodyHandlers.ofString());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException(e);
        }
    }

    @Override
    public void close() {
        process.close();
    }
}
