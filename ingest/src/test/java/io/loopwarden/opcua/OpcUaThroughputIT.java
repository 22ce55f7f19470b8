package io.loopwarden.opcua;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.collector.RejectLog;
import java.time.Clock;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.atomic.LongAdder;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** How many values a second pass one connection, with the server in the same process on the same cores. */
class OpcUaThroughputIT {

    private static final int UNITS = 24;
    private static final int POINTS = 40;
    private static final long MEASURED = 200_000;

    @Test
    void passesFarMoreThanAFleetSends() throws Exception {
        try (PlantServer server = new PlantServer()) {
            ServedUnit[] units = IntStream.rangeClosed(1, UNITS)
                    .mapToObj(unit -> Plants.unit("U" + unit, nodes(server, unit)))
                    .toArray(ServedUnit[]::new);
            server.start();
            Connection connection = Plants.connection(
                    server.address(),
                    Plants.quick(
                            "publishing-interval", "PT0.02S",
                            "sampling-interval", "PT0.005S",
                            "queue-size", "100",
                            "keep-alive", "PT5S"),
                    units);
            LongAdder readings = new LongAdder();
            RejectLog rejects = new RejectLog(Clock.systemUTC());
            try (OpcUaCollector collector = new OpcUaCollector(
                    connection,
                    OpcUaSettings.from(connection),
                    (unit, receivedAt, came) -> {
                        readings.add(came.stream()
                                .filter(reading -> reading.quality().isGood())
                                .count());
                        return CompletableFuture.completedFuture(null);
                    },
                    rejects,
                    Clock.systemUTC())) {
                collector.start();
                awaitReadings(readings, MEASURED); // warm-up
                long before = readings.sum();
                long startNs = System.nanoTime();
                awaitReadings(readings, before + MEASURED);
                double perSecond = (readings.sum() - before) / ((System.nanoTime() - startNs) / 1e9);
                System.out.printf(
                        "OPC UA: %.0f readings/s over one connection, %d nodes (a fleet at 1 Hz sends %d/s)%n",
                        perSecond, UNITS * POINTS, UNITS * POINTS);
                assertThat(perSecond).isGreaterThan(5.0 * UNITS * POINTS);
                assertThat(rejects.entries()).isEmpty();
            }
        }
    }

    private static void awaitReadings(LongAdder readings, long count) {
        await().atMost(Duration.ofMinutes(2))
                .pollInterval(Duration.ofMillis(20))
                .until(() -> readings.sum() >= count);
    }

    private static Map<String, String> nodes(PlantServer server, int unit) {
        Map<String, String> nodes = new LinkedHashMap<>();
        for (int point = 1; point <= POINTS; point++) {
            server.count("U" + unit + "/" + point);
            nodes.put("tcs.filter." + point + ".dp", PlantServer.node("U" + unit + "/" + point));
        }
        return nodes;
    }
}
