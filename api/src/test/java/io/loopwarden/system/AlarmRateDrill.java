package io.loopwarden.system;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.Collectors;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The whole service while 120 units each change two alarms every 1.3 s: about 11,000 changes in a minute over a real broker, with the
 * alarm list asked for all the time. Started by {@code deploy/drill alarms}; takes two minutes.
 */
class AlarmRateDrill {

    private static final int UNITS = 120;
    private static final int FLIPS = 46;
    private static final Duration BETWEEN = Duration.ofMillis(1300);

    @TempDir
    Path folder;

    @Test
    void tenThousandChangesInAMinute() throws Exception {
        try (Broker broker = Broker.start(folder.resolve("broker"));
                Taker taker = new Taker()) {
            Path fleet = fleet(folder.resolve("fleet"), broker.address());
            taker.putInto(fleet);
            MqttAsyncClient publisher = new MqttAsyncClient(
                    broker.address().replace("mqtt:", "tcp:"), "drill-publisher", new MemoryPersistence());
            MqttConnectionOptions options = new MqttConnectionOptions();
            options.setReceiveMaximum(1000);
            options.setAutomaticReconnect(true);
            options.setKeepAliveInterval(300);
            publisher.connect(options).waitForCompletion(20_000);
            try (Service service = new Service(fleet, folder.resolve("service")).start()) {
                await("the service has subscribed")
                        .atMost(Duration.ofSeconds(60))
                        .until(() -> service.get("/api/v1/data-quality")
                                .get("connections")
                                .get(0)
                                .get("state")
                                .asText()
                                .equals("connected"));
                run(publisher, service, taker);
            } finally {
                publisher.disconnectForcibly(1000);
                publisher.close(true);
            }
        }
    }

    private void run(MqttAsyncClient publisher, Service service, Taker taker) throws Exception {
        publishAll(publisher, false);
        await("every unit reports").atMost(Duration.ofSeconds(60)).until(() -> reporting(service) == UNITS);
        Reader reader = new Reader(service);
        Thread asking = new Thread(reader, "reader");
        asking.start();
        Instant begin = Instant.now();
        for (int flip = 0; flip < FLIPS; flip++) {
            long next = System.nanoTime() + BETWEEN.toNanos();
            publishAll(publisher, flip % 2 == 0);
            LockSupport.parkNanos(Math.max(0, next - System.nanoTime()));
        }
        Duration taken = Duration.between(begin, Instant.now());
        int expected = 2 * UNITS * FLIPS;
        await("every change is in the history")
                .atMost(Duration.ofSeconds(60))
                .pollInterval(Duration.ofSeconds(1))
                .until(() -> changes(service, begin).size() >= expected);
        reader.going = false;
        asking.join();

        List<JsonNode> changes = changes(service, begin);
        Map<String, String> state = new HashMap<>();
        for (JsonNode line : changes) {
            String alarm = line.get("alarm").asText();
            assertThat(line.get("from").asText()).as(alarm).isEqualTo(state.getOrDefault(alarm, "normal"));
            state.put(alarm, line.get("to").asText());
        }
        Map<String, Long> messages =
                taker.taken.stream().collect(Collectors.groupingBy(Taker.Taken::incident, Collectors.counting()));
        long[] sorted =
                reader.nanos.stream().mapToLong(Long::longValue).sorted().toArray();
        double p95 = sorted[(int) Math.ceil(0.95 * sorted.length) - 1] / 1e6;
        System.out.printf(
                "%d alarm changes in %.1f s, %d of them kept, none missing; alarm list asked %d times, p95 %.0f ms, slowest %.0f ms;"
                        + " %d incidents, at most %d message(s) for one%n",
                expected,
                taken.toMillis() / 1e3,
                changes.size(),
                sorted.length,
                p95,
                sorted[sorted.length - 1] / 1e6,
                messages.size(),
                messages.values().stream().mapToLong(Long::longValue).max().orElse(0));
        assertThat(changes).hasSize(expected);
        assertThat(p95).isLessThanOrEqualTo(200);
        assertThat(messages).hasSize(UNITS);
        assertThat(messages.values()).containsOnly(1L);
    }

    /** Asks for the alarm list again and again, as open pages do. */
    private static final class Reader implements Runnable {
        final List<Long> nanos = new ArrayList<>();
        volatile boolean going = true;
        private final Service service;

        Reader(Service service) {
            this.service = service;
        }

        @Override
        public void run() {
            while (going) {
                long begin = System.nanoTime();
                service.get("/api/v1/alarms");
                nanos.add(System.nanoTime() - begin);
                LockSupport.parkNanos(100_000_000);
            }
        }
    }

    private static long reporting(Service service) {
        long reporting = 0;
        for (JsonNode unit : service.get("/api/v1/fleet").get("units")) {
            reporting += unit.has("lastSampleAt") ? 1 : 0;
        }
        return reporting;
    }

    /** What happened to the two alarms, without those that only say that a unit can be judged. */
    private static List<JsonNode> changes(Service service, Instant begin) {
        List<JsonNode> changes = new ArrayList<>();
        service.get("/api/v1/alarm-history?from=" + begin.minusSeconds(1)).forEach(line -> {
            String alarm = line.get("alarm").asText();
            if (alarm.endsWith("/tray") || alarm.endsWith("/rope")) {
                changes.add(line);
            }
        });
        return changes;
    }

    private static void publishAll(MqttAsyncClient publisher, boolean wet) throws Exception {
        String time = Instant.now().toString();
        List<IMqttToken> tokens = new ArrayList<>();
        for (int n = 1; n <= UNITS; n++) {
            MqttMessage message = new MqttMessage(("{\"unit\":\"U" + n + "\",\"time\":\"" + time
                            + "\",\"values\":{\"TRAY\":" + wet + ",\"ROPE\":" + wet + "}}")
                    .getBytes(StandardCharsets.UTF_8));
            message.setQos(0);
            if (!publisher.isConnected()) {
                await("the publisher is connected again").until(publisher::isConnected);
            }
            tokens.add(publisher.publish("bench/U" + n + "/telemetry", message));
        }
        for (IMqttToken token : tokens) {
            token.waitForCompletion(10_000);
        }
    }

    private static Path fleet(Path folder, String broker) throws Exception {
        Path example = Repository.root().resolve("api/src/test/resources/system/fleet");
        Files.createDirectories(folder.resolve("nameplates"));
        Files.createDirectories(folder.resolve("maps"));
        Files.copy(example.resolve("nameplates/bench.yaml"), folder.resolve("nameplates/bench.yaml"));
        String map = Files.readString(example.resolve("maps/bench.yaml"));
        Files.writeString(folder.resolve("maps/bench.yaml"), map.substring(0, map.indexOf("points:")) + """
                points:
                  - {point: tray.wet, source: TRAY, unit: "1"}
                  - {point: rope.wet, source: ROPE, unit: "1"}
                """);
        StringBuilder text = new StringBuilder("""
                site: {name: Drill, zone: "Z"}
                connections:
                  - {name: bench, protocol: mqtt-json, endpoint: "%s", settings: {client-id: drill, topics: bench/+/telemetry}}
                units:
                """.formatted(broker));
        for (int n = 1; n <= UNITS; n++) {
            text.append("  - {id: U-" + n + ", hall: Bench, nameplate: bench, connection: bench, name-at-source: U" + n
                    + ", map: bench}\n");
        }
        Files.writeString(folder.resolve("fleet.yaml"), text.toString());
        StringBuilder alarms = new StringBuilder("alarms:\n");
        for (String point : List.of("tray", "rope")) {
            alarms.append("""
                      - alarm: %s
                        title: Wet
                        function: containment
                        when: {point: %s.wet, above: 0.5}
                        cause: A leak.
                        consequence: Coolant reaches equipment.
                        severity: severe
                        first-action: Go there.
                        respond-within: PT5M
                        who: cooling
                        group: leak
                    """.formatted(point, point));
        }
        alarms.append("""
                  - {alarm: tray-wet, enabled: false, because: the drill has its own}
                  - {alarm: rope-wet, enabled: false, because: the drill has its own}
                  - {alarm: data-stale, enabled: false, because: the drill pauses}
                """);
        Files.writeString(folder.resolve("alarms.yaml"), alarms.toString());
        return folder;
    }
}
