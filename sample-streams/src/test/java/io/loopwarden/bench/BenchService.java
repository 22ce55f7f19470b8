package io.loopwarden.bench;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;

/** The packaged service as a process of its own. */
final class BenchService implements AutoCloseable {

    /** With what a process takes beside its heap, a thousand units are to stay within 512 MB. */
    private static final String HEAP = "-Xmx320m";

    private static final long STARTS_WITHIN_NS = 120_000_000_000L;
    private static final long LOOK_EVERY_NS = 10_000_000;

    final HttpClient http = HttpClient.newHttpClient();
    private final Process process;
    private final int port;
    private final Path log;

    private BenchService(Process process, int port, Path log) {
        this.process = process;
        this.port = port;
        this.log = log;
    }

    static BenchService launch(Path root, Path fleet, Path data) throws IOException {
        Path jar = root.resolve("api/target/quarkus-app/quarkus-run.jar");
        if (!Files.exists(jar)) {
            throw new IOException(jar + " is not built: mvn -B package -DskipTests");
        }
        int port = freePort();
        Files.createDirectories(data);
        Path log = data.resolve("service.log");
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                HEAP,
                "-XX:+UseSerialGC",
                "-Dquarkus.http.host=127.0.0.1",
                "-Dquarkus.http.port=" + port,
                "-Dloopwarden.fleet=" + fleet,
                "-Dloopwarden.data=" + data,
                "-Dloopwarden.security.view-without-sign-in=true",
                "-jar",
                jar.toString()));
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.appendTo(log.toFile()))
                .start();
        Runtime.getRuntime().addShutdownHook(new Thread(process::destroyForcibly));
        return new BenchService(process, port, log);
    }

    static int freePort() throws IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        }
    }

    URI address(String scheme, String path) {
        return URI.create(scheme + "://127.0.0.1:" + port + path);
    }

    /** Waits until that path answers 200. */
    void awaitAnswer(String path) throws Exception {
        long begin = System.nanoTime();
        while (status(path) != 200) {
            if (!process.isAlive() || System.nanoTime() - begin > STARTS_WITHIN_NS) {
                throw new IllegalStateException("the service does not answer " + path + ": " + Files.readString(log));
            }
            LockSupport.parkNanos(LOOK_EVERY_NS);
        }
    }

    int status(String path) throws InterruptedException {
        try {
            return get(path).statusCode();
        } catch (IOException e) {
            return -1;
        }
    }

    HttpResponse<byte[]> get(String path) throws IOException, InterruptedException {
        return http.send(
                HttpRequest.newBuilder(address("http", path)).build(), HttpResponse.BodyHandlers.ofByteArray());
    }

    /** Most memory that the process had in RAM since its start, without its database. */
    double peakMb() throws IOException {
        for (String line : Files.readAllLines(Path.of("/proc", Long.toString(process.pid()), "status"))) {
            if (line.startsWith("VmHWM:")) {
                return Double.parseDouble(line.replaceAll("\\D", "")) / 1024;
            }
        }
        throw new IOException("no VmHWM of process " + process.pid());
    }

    /** Processor time of the process and of its database, since their start. */
    double cpuS() {
        return process.toHandle().descendants().mapToDouble(BenchService::cpuS).sum() + cpuS(process.toHandle());
    }

    private static double cpuS(ProcessHandle handle) {
        return handle.info().totalCpuDuration().map(d -> d.toNanos() / 1e9).orElse(0.0);
    }

    @Override
    public void close() {
        process.destroy();
        try {
            if (!process.waitFor(60, TimeUnit.SECONDS)) {
                process.destroyForcibly();
            }
        } catch (InterruptedException e) {
            process.destroyForcibly();
            Thread.currentThread().interrupt();
        }
    }
}
