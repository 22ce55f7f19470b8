package io.loopwarden.oncall;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetSocketAddress;
import java.net.URI;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.ToIntFunction;

/** A real HTTP receiver on loopback that keeps what it got. */
final class Receiver implements AutoCloseable {

    record Request(String method, URI target, Map<String, List<String>> headers, byte[] body) {
        String header(String name) {
            return headers.getOrDefault(name, List.of("")).get(0);
        }
    }

    final List<Request> requests = new CopyOnWriteArrayList<>();
    private final HttpServer server;
    private final ExecutorService threads = Executors.newFixedThreadPool(8);
    private volatile ToIntFunction<Request> answer = request -> 204;

    Receiver() {
        try {
            server = HttpServer.create(new InetSocketAddress("127.0.0.1", 0), 0);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        server.setExecutor(threads);
        server.createContext("/", this::take);
        server.start();
    }

    URI address(String path) {
        return URI.create("http://127.0.0.1:" + server.getAddress().getPort() + path);
    }

    /** @param status what to answer to a request, decided before it is answered */
    void answers(ToIntFunction<Request> status) {
        answer = status;
    }

    private void take(HttpExchange exchange) throws IOException {
        try (exchange) {
            Request request = new Request(
                    exchange.getRequestMethod(),
                    address(exchange.getRequestURI().toString()),
                    Map.copyOf(exchange.getRequestHeaders()),
                    exchange.getRequestBody().readAllBytes());
            requests.add(request);
            exchange.sendResponseHeaders(answer.applyAsInt(request), -1);
        }
    }

    @Override
    public void close() {
        server.stop(0);
        threads.shutdownNow();
    }
}
