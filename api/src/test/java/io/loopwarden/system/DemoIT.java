package io.loopwarden.system;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.URI;
import java.net.http.HttpRequest;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The demo command: live figures of all 24 units over all protocols within a minute, and nothing left when it is stopped. */
class DemoIT {

    @TempDir
    Path folder;

    @Test
    void demoShowsTheWholeFleetAndLeavesNothingBehind() throws Exception {
        int port = Service.freePort();
        Path output = folder.resolve("demo.out");
        long begin = System.nanoTime();
        Process demo = new ProcessBuilder(
                        Repository.root().resolve("deploy/demo").toString(),
                        "--port",
                        Integer.toString(port),
                        "--data",
                        folder.resolve("data").toString())
                .redirectErrorStream(true)
                .redirectOutput(output.toFile())
                .start();
        try {
            await("demo prints ready")
                    .atMost(Duration.ofSeconds(120))
                    .pollInterval(Duration.ofMillis(100))
                    .failFast(() -> {
                        if (!demo.isAlive()) {
                            throw new IllegalStateException("demo ended: " + Files.readString(output));
                        }
                    })
                    .until(() -> Files.readString(output).contains("ready http://127.0.0.1:" + port + "/"));
            double seconds = (System.nanoTime() - begin) / 1e9;
            System.out.printf("demo ready after %.1f s (goal under 60 s)%n", seconds);
            assertThat(seconds).isLessThan(60);

            JsonNode units = get(port, "/api/v1/fleet").get("units");
            assertThat(units).hasSize(24);
            assertThat(units)
                    .allSatisfy(unit -> assertThat(
                                    unit.at("/figures/approach/value").isNumber())
                            .as(unit.get("id").asText())
                            .isTrue());
            JsonNode quality = get(port, "/api/v1/data-quality");
            assertThat(quality.get("faults")).isEmpty();
            assertThat(StreamSupport.stream(quality.get("connections").spliterator(), false)
                            .map(connection -> connection.get("protocol").asText()))
                    .contains("opc-ua", "mqtt-json", "mqtt-sparkplug", "modbus-tcp");
            assertThat(quality.get("connections")).allSatisfy(connection -> {
                assertThat(connection.get("state").asText()).isEqualTo("connected");
                assertThat(connection.get("accepted").asLong()).isPositive();
            });
        } finally {
            demo.destroy();
            demo.waitFor();
        }
        await("nothing of the demo runs any more")
                .atMost(Duration.ofSeconds(10))
                .untilAsserted(() -> assertThat(processesNaming(folder)).isEmpty());
    }

    private static JsonNode get(int port, String path) throws Exception {
        return new ObjectMapper()
                .readTree(Service.send(HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + path))
                                .build())
                        .body());
    }

    private static List<String> processesNaming(Path folder) {
        try (Stream<ProcessHandle> all = ProcessHandle.allProcesses()) {
            return all.filter(
                            process -> process.pid() != ProcessHandle.current().pid())
                    .map(process -> process.info().commandLine().orElse(""))
                    .filter(command -> command.contains(folder.toString()))
                    .toList();
        }
    }
}
