package io.loopwarden.system;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Semaphore;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.LockSupport;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a broker has acknowledged to the controller's side is in the store exactly once, whenever the service is killed. */
class AcknowledgedIsStoredIT {

    private static final int KILLS = Integer.getInteger("loopwarden.test.kills", 4);
    private static final Duration BETWEEN_MESSAGES = Duration.ofMillis(4);

    @TempDir
    Path folder;

    @Test
    void nothingAcknowledgedIsLostOrDoubledByKills() throws Exception {
        long seed = System.nanoTime();
        SplittableRandom random = new SplittableRandom(seed);
        Instant first = Instant.now().truncatedTo(ChronoUnit.SECONDS).minusSeconds(3600);
        Map<Long, Boolean> acknowledged = new ConcurrentHashMap<>();
        AtomicBoolean publishing = new AtomicBoolean(true);
        try (Bench bench = Bench.start(folder)) {
            Thread publisher = new Thread(() -> publish(bench, first, acknowledged, publishing), "publisher");
            publisher.start();
            for (int kill = 1; kill <= KILLS; kill++) {
                int before = acknowledged.size();
                int more = random.nextInt(50, 500);
                await("messages between kills")
                        .atMost(Duration.ofSeconds(60))
                        .pollInterval(Duration.ofMillis(2))
                        .until(() -> acknowledged.size() >= before + more);
                bench.service().kill();
                bench.service().start();
            }
            publishing.set(false);
            publisher.join();

            await("every acknowledged message is stored, seed " + seed)
                    .atMost(Duration.ofSeconds(90))
                    .pollInterval(Duration.ofMillis(500))
                    .untilAsserted(
                            () -> assertThat(stored(bench, first).keySet()).containsAll(acknowledged.keySet()));
            Map<Long, Integer> stored = stored(bench, first);
            System.out.printf(
                    "kill -9 of the service, %d times: %d messages acknowledged by the broker, %d stored, seed %d%n",
                    KILLS, acknowledged.size(), stored.size(), seed);
            assertThat(stored.values()).as("each exactly once").containsOnly(1);
        }
    }

    /** The client refuses to send more than the broker takes at once (10 with this one). */
    private static final int MOST_IN_FLIGHT = 6;

    private static void publish(Bench bench, Instant first, Map<Long, Boolean> acknowledged, AtomicBoolean publishing) {
        Semaphore inFlight = new Semaphore(MOST_IN_FLIGHT);
        try {
            for (long k = 0; publishing.get(); k++) {
                long number = k;
                inFlight.acquire();
                String message = Bench.message(
                        first.plusMillis(100 * k),
                        "\"P1_STARTS\":" + k + ",\"T_TCS_SUP\":" + (30 + (k % 1000) / 100.0));
                bench.publish(message, new MqttActionListener() {
                    @Override
                    public void onSuccess(IMqttToken done) {
                        acknowledged.put(number, true);
                        inFlight.release();
                    }

                    @Override
                    public void onFailure(IMqttToken failed, Throwable why) {
                        // Not acknowledged: the service owes nothing for it.
                        inFlight.release();
                    }
                });
                LockSupport.parkNanos(BETWEEN_MESSAGES.toNanos());
            }
        } catch (Exception e) {
            throw new IllegalStateException("publishing failed", e);
        }
    }

    /** How often each counter value is stored; the time must be the one it was sent with. */
    private static Map<Long, Integer> stored(Bench bench, Instant first) {
        JsonNode samples = bench.service()
                .get("/api/v1/units/" + Bench.UNIT + "/points/pump.1.starts/samples?from=" + first + "&to="
                        + first.plus(Duration.ofHours(20)));
        Map<Long, Integer> counts = new TreeMap<>();
        for (JsonNode sample : samples) {
            long number = Long.parseLong(sample.get("sourceValue").asText());
            assertThat(Instant.parse(sample.get("measuredAt").asText())).isEqualTo(first.plusMillis(100 * number));
            counts.merge(number, 1, Integer::sum);
        }
        return counts;
    }
}
