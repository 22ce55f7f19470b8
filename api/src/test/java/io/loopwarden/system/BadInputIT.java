package io.loopwarden.system;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Bad input is counted by reason, can be looked at, and disturbs nothing else. */
class BadInputIT {

    @TempDir
    Path folder;

    @Test
    void everyKindIsCountedAndGoodDataGoOn() throws Exception {
        try (Bench bench = Bench.start(folder)) {
            Instant now = Instant.now();
            await("connected")
                    .atMost(Duration.ofSeconds(30))
                    .until(() -> connection(bench).get("state").asText().equals("connected"));

            bench.publish(Bench.message(now, "\"T_TCS_SUP\":31.25,\"NO_SUCH_TAG\":1"));
            bench.publish(Bench.message(now.plusMillis(1), "\"T_TCS_SUP\":\"warm\",\"T_TCS_RET\":41.5"));
            bench.publish(Bench.message(now.plusMillis(2), "\"T_TCS_SUP\":NaN,\"F_TCS\":1200"));
            bench.publish(Bench.message(now.plus(Duration.ofDays(30)), "\"T_TCS_SUP\":31.5"));
            bench.publish(Bench.message(now.plusMillis(3), "\"F_TCS\":{\"value\":3,\"unit\":\"[furlong_us]/d\"}"));
            byte[] huge = new byte[10 * 1024 * 1024];
            Arrays.fill(huge, (byte) ' ');
            bench.publish(huge).waitForCompletion(30_000);
            bench.publish(Bench.message(now.plusMillis(4), "\"T_TCS_SUP\":31.7").substring(0, 60));
            bench.publish(Bench.message(now.plusMillis(5), "\"T_TCS_SUP\":31.75"));

            await("each reason is counted")
                    .atMost(Duration.ofSeconds(30))
                    .untilAsserted(() -> assertThat(reasons(bench))
                            .containsOnlyKeys(
                                    "unknown-tag",
                                    "wrong-type",
                                    "not-a-number",
                                    "time-far-off",
                                    "unknown-unit-of-measure",
                                    "payload-too-large",
                                    "malformed"));
            System.out.println("bad input by reason: " + reasons(bench));
            await("the good values of the same and of later messages are stored")
                    .atMost(Duration.ofSeconds(10))
                    .untilAsserted(() -> {
                        assertThat(values(bench, "tcs.supply.temperature", now)).containsExactly("31.25", "31.75");
                        assertThat(values(bench, "tcs.return.temperature", now)).containsExactly("41.5");
                        assertThat(values(bench, "tcs.flow", now)).containsExactly("1200");
                    });
            assertThat(connection(bench).get("state").asText()).isEqualTo("connected");
        }
    }

    private static JsonNode connection(Bench bench) {
        return bench.service().get("/api/v1/data-quality").get("connections").get(0);
    }

    private static Map<String, Long> reasons(Bench bench) {
        Map<String, Long> counts = new TreeMap<>();
        for (JsonNode reject : bench.service().get("/api/v1/data-quality").get("rejects")) {
            assertThat(reject.get("lastDetail").asText().getBytes(StandardCharsets.UTF_8))
                    .isNotEmpty();
            counts.put(reject.get("reason").asText(), reject.get("count").asLong());
        }
        return counts;
    }

    private static String[] values(Bench bench, String point, Instant from) {
        JsonNode samples = bench.service()
                .get("/api/v1/units/" + Bench.UNIT + "/points/" + point + "/samples?from=" + from.minusSeconds(1)
                        + "&to=" + from.plusSeconds(60));
        String[] values = new String[samples.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = samples.get(i).get("sourceValue").asText();
        }
        return values;
    }
}
