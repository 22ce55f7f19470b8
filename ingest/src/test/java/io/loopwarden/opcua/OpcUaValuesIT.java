package io.loopwarden.opcua;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.ubyte;
import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;
import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.ulong;
import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.ushort;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import java.math.BigInteger;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Values over the wire of a real server: types, times, status codes, deadband, grouping, unknown nodes. */
class OpcUaValuesIT {

    private final PlantServer server = new PlantServer();
    private Bench bench;

    @BeforeEach
    void startServer() throws Exception {
        server.start();
    }

    @AfterEach
    void closeAll() {
        if (bench != null) {
            bench.close();
        }
        server.close();
    }

    @Test
    void everyTypeArrivesAsItIs() {
        Map<String, Object> sent = new LinkedHashMap<>();
        sent.put("boolean", true);
        sent.put("sbyte", (byte) -7);
        sent.put("byte", ubyte(200));
        sent.put("int16", (short) -30000);
        sent.put("uint16", ushort(60000));
        sent.put("int32", -2_000_000_000);
        sent.put("uint32", uint(4_000_000_000L));
        sent.put("int64", Long.MIN_VALUE);
        sent.put("uint64", ulong(new BigInteger("18446744073709551615")));
        sent.put("float", 35.5f);
        sent.put("double", 0.1);
        Map<String, String> nodes = new LinkedHashMap<>();
        sent.forEach((name, value) -> {
            server.set(name, value);
            nodes.put("tcs.filter." + (nodes.size() + 1) + ".dp", PlantServer.node(name));
        });
        bench = new Bench(server.address(), Plants.quick(), Plants.unit("E-01", nodes)).start();
        await().atMost(Bench.PATIENCE)
                .until(() -> nodes.values().stream()
                        .allMatch(node -> bench.sink.of(node).findFirst().isPresent()));
        assertThat(first("boolean")).isEqualTo(RawValue.of(1L));
        assertThat(first("sbyte")).isEqualTo(RawValue.of(-7L));
        assertThat(first("byte")).isEqualTo(RawValue.of(200L));
        assertThat(first("int16")).isEqualTo(RawValue.of(-30000L));
        assertThat(first("uint16")).isEqualTo(RawValue.of(60000L));
        assertThat(first("int32")).isEqualTo(RawValue.of(-2_000_000_000L));
        assertThat(first("uint32")).isEqualTo(RawValue.of(4_000_000_000L));
        assertThat(first("int64")).isEqualTo(RawValue.of(Long.MIN_VALUE));
        assertThat(first("uint64")).as("all 64 bits").isEqualTo(RawValue.of(-1L));
        assertThat(first("float")).isEqualTo(RawValue.of(35.5));
        assertThat(first("double")).isEqualTo(RawValue.of(0.1));
    }

    @Test
    void sourceTimesAndStatusCodesAreKept() {
        Instant longAgo = Instant.parse("2026-01-02T03:04:05.678901200Z");
        server.set("flow", new DataValue(Variant.of(12.5), new StatusCode(0x4090_0000L), new DateTime(longAgo)));
        bench = flowBench(Plants.quick()).start();
        await().atMost(Bench.PATIENCE).until(() -> readings("flow").size() == 1);
        assertThat(readings("flow"))
                .containsExactly(new RawReading(
                        PlantServer.node("flow"),
                        longAgo,
                        RawValue.of(12.5),
                        new Quality(Quality.Level.UNCERTAIN, 0x4090_0000L)));
        server.set("flow", null, 0x808C_0000L); // BadSensorFailure
        await().atMost(Bench.PATIENCE).until(() -> readings("flow").size() == 2);
        assertThat(readings("flow").get(1).value()).isEqualTo(RawValue.NONE);
        assertThat(readings("flow").get(1).quality()).isEqualTo(new Quality(Quality.Level.BAD, 0x808C_0000L));
    }

    @Test
    void serverTimeStandsInForASourceTimeThatIsMissing() {
        Instant before = Instant.now();
        server.set("flow", new DataValue(Variant.of(12.5), StatusCode.GOOD, null, null));
        bench = flowBench(Plants.quick()).start();
        bench.awaitGood("flow", 12.5);
        assertThat(readings("flow").get(0).measuredAt()).isBetween(before, Instant.now());
    }

    @Test
    void whatIsNoNumberIsCountedAndTheRestGoesOn() {
        server.set("flow", Double.NaN);
        server.set("level", "two thirds");
        server.set("other", 3.0);
        bench = new Bench(
                        server.address(),
                        Plants.quick(),
                        Plants.unit(
                                "E-01",
                                Map.of(
                                        "tcs.flow", PlantServer.node("flow"),
                                        "reservoir.level", PlantServer.node("level"),
                                        "fws.flow", PlantServer.node("other"))))
                .start();
        bench.awaitGood("other", 3);
        await().atMost(Bench.PATIENCE)
                .until(() -> bench.rejects.count(RejectReason.NOT_A_NUMBER) == 1
                        && bench.rejects.count(RejectReason.WRONG_TYPE) == 1);
        server.set("flow", 4.0);
        bench.awaitGood("flow", 4);
    }

    @Test
    void deadbandHoldsBackSmallChanges() {
        server.set("flow", 100.0);
        server.set("level", 0.0);
        Map<String, String> settings = Plants.quick("deadband.tcs.flow", "absolute 2");
        bench = new Bench(
                        server.address(),
                        settings,
                        Plants.unit(
                                "E-01",
                                Map.of(
                                        "tcs.flow", PlantServer.node("flow"),
                                        "reservoir.level", PlantServer.node("level"))))
                .start();
        bench.awaitGood("flow", 100);
        bench.awaitGood("level", 0);
        for (int step = 1; step <= 3; step++) { // each step is seen on the other node before the next
            server.set("flow", 100 + step * 0.6);
            server.set("level", (double) step);
            bench.awaitGood("level", step);
        }
        server.set("flow", 103.0);
        bench.awaitGood("flow", 103);
        assertThat(readings("flow").stream().map(RawReading::value))
                .containsExactly(RawValue.of(100.0), RawValue.of(103.0));
    }

    @Test
    void deadbandThatTheServerCannotDoIsLeftOut() {
        server.set("flow", 100.0); // no EURange, so no percent deadband
        bench = flowBench(Plants.quick("deadband", "percent 5")).start();
        bench.awaitGood("flow", 100);
        assertThat(bench.collector.status().detail()).isEmpty();
        assertThat(bench.rejects.entries()).isEmpty();
    }

    @Test
    void everyScanIsReportedAlsoWhenTheValueStays() {
        server.set("steady", 20.0);
        bench = new Bench(
                        server.address(),
                        Plants.quick("report", "every-scan"),
                        Plants.unit("E-01", Map.of("tcs.flow", PlantServer.node("steady"))))
                .start();
        for (int count = 1; count <= 3; count++) {
            int soFar = count;
            await().atMost(Bench.PATIENCE).until(() -> readings("steady").size() >= soFar);
            server.set("steady", 20.0); // same value, new source time
        }
        assertThat(readings("steady").stream()
                        .map(RawReading::measuredAt)
                        .distinct()
                        .count())
                .isGreaterThanOrEqualTo(3);
    }

    @Test
    void unitsThatComeTogetherAreHandedOnOneByOneWithTheSameReceiveTime() {
        for (String name : List.of("1/flow", "1/level", "2/flow", "2/level")) {
            server.set(name, 1.0);
        }
        Map<String, String> nodes = Map.of("tcs.flow", "ns=2;s={unit}/flow", "reservoir.level", "ns=2;s={unit}/level");
        bench = new Bench(
                        server.address(),
                        Plants.quick("publishing-interval", "PT0.2S"),
                        Plants.unit("1", nodes),
                        Plants.unit("2", nodes))
                .start();
        await().atMost(Bench.PATIENCE).until(() -> bench.sink.deliveries().size() >= 2);
        var deliveries = bench.sink.deliveries();
        assertThat(deliveries.get(0).receivedAt()).isEqualTo(deliveries.get(1).receivedAt());
        assertThat(deliveries)
                .allSatisfy(delivery -> assertThat(delivery.readings())
                        .hasSize(2)
                        .allMatch(reading -> reading.source()
                                .startsWith("ns=2;s=" + delivery.unit().value())));
    }

    @Test
    void unknownNodeIsCountedNamedAndTriedAgain() {
        server.set("flow", 1.0);
        bench = new Bench(
                        server.address(),
                        Plants.quick("unknown-node-retry", "PT0.3S"),
                        Plants.unit(
                                "E-01",
                                Map.of(
                                        "tcs.flow", PlantServer.node("flow"),
                                        "fws.flow", PlantServer.node("not-there"),
                                        "fws.dp", "nsu=urn:not:there;s=x")))
                .start();
        bench.awaitGood("flow", 1);
        assertThat(bench.awaitDetail("2 of 3 nodes")).contains("correct the point map");
        assertThat(bench.rejects.entries()).singleElement().satisfies(entry -> {
            assertThat(entry.reason()).isEqualTo(RejectReason.UNKNOWN_TAG);
            assertThat(entry.lastDetail()).contains("E-01");
        });
        server.set("not-there", 5.0);
        bench.awaitGood("not-there", 5);
        bench.awaitDetail("1 of 3 nodes cannot be read, for example nsu=urn:not:there;s=x");
    }

    @Test
    void nodeMayBeNamedByTheUriOfItsNamespace() {
        server.set("flow", 6.0);
        String node = "nsu=" + PlantServer.NAMESPACE + ";s=flow";
        bench = new Bench(server.address(), Plants.quick(), Plants.unit("E-01", Map.of("tcs.flow", node))).start();
        await().atMost(Duration.ofSeconds(20)).until(() -> bench.sink.hasGood(node, 6));
    }

    private Bench flowBench(Map<String, String> settings) {
        return new Bench(server.address(), settings, Plants.unit("E-01", Map.of("tcs.flow", PlantServer.node("flow"))));
    }

    private List<RawReading> readings(String name) {
        return bench.sink.of(PlantServer.node(name)).toList();
    }

    private RawValue first(String name) {
        return readings(name).get(0).value();
    }
}
