package io.loopwarden.virtual.serve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import com.digitalpetri.modbus.client.ModbusTcpClient;
import com.digitalpetri.modbus.exceptions.ModbusResponseException;
import com.digitalpetri.modbus.pdu.ReadDiscreteInputsRequest;
import com.digitalpetri.modbus.pdu.ReadInputRegistersRequest;
import com.digitalpetri.modbus.pdu.WriteSingleRegisterRequest;
import com.digitalpetri.modbus.tcp.client.NettyTcpClientTransport;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.fleet.PointName;
import io.loopwarden.virtual.LiveFleet;
import io.loopwarden.virtual.Units;
import io.loopwarden.virtual.VirtualUnit;
import io.loopwarden.virtual.fault.FaultKind;
import io.loopwarden.virtual.scenario.FleetFile;
import io.loopwarden.virtual.scenario.Scenario;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.NodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.eclipse.milo.opcua.stack.core.types.enumerated.TimestampsToReturn;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.eclipse.tahu.message.SparkplugBPayloadDecoder;
import org.eclipse.tahu.message.SparkplugBPayloadEncoder;
import org.eclipse.tahu.message.model.Metric;
import org.eclipse.tahu.message.model.MetricDataType;
import org.eclipse.tahu.message.model.SparkplugBPayload;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The whole virtual fleet on real sockets, read back by plain clients. */
class LiveFleetIT {

    private static final Duration PATIENCE = Duration.ofSeconds(20);

    private record Message(String topic, byte[] payload) {}

    @TempDir
    static Path folder;

    private static Broker broker;
    private static LiveFleet fleet;
    private static ControlEndpoint control;
    private static MqttClient listener;
    private static final Queue<Message> messages = new ConcurrentLinkedQueue<>();

    @BeforeAll
    static void start() throws Exception {
        broker = Broker.start(folder.resolve("broker"), 0);
        listener = new MqttClient(broker.address().replace("mqtt:", "tcp:"), "listener", new MemoryPersistence());
        listener.connect();
        listener.subscribe("#", 1, (topic, message) -> messages.add(new Message(topic, message.getPayload())));
        Instant now = Instant.now();
        fleet = new LiveFleet(
                Scenario.load(Units.SCENARIO, now, Scenario.Options.AS_WRITTEN),
                now,
                Optional.of(broker.address()),
                1,
                folder,
                Duration.ofHours(2));
        control = new ControlEndpoint(fleet, 0);
        fleet.start();
    }

    @Test
    void whatWasBeforeIsInAFileOfEachUnit() throws Exception {
        List<String> lines = Files.readAllLines(folder.resolve("history/E-07.csv"));
        assertThat(lines.get(0)).startsWith("time,").contains("tcs.supply.temperature [Cel]", "tcs.flow [L/min]");
        assertThat(lines).hasSizeBetween(119, 121);
        assertThat(lines.get(60).split(","))
                .as("a value of every point")
                .hasSameSizeAs(lines.get(0).split(","))
                .doesNotContain("");
    }

    @AfterAll
    static void stop() throws Exception {
        control.close();
        fleet.close();
        listener.disconnect();
        listener.close();
        broker.close();
    }

    private static FleetFile.Line line(String name) {
        return FleetFile.load(folder.resolve("fleet")).lines().stream()
                .filter(line -> line.name().equals(name))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void opcUaGivesValuesWithSourceTimesAndTakesNoWrites() throws Exception {
        OpcUaClient client = OpcUaClient.create(line("east-opcua").endpoint());
        client.connect();
        try {
            NodeId flow = NodeId.parse("ns=2;s=CDU-E-02/TcsFlow");
            Instant set = fleet.change("E-02", unit -> unit.override(PointName.of("tcs.flow"), 0.02));
            DataValue value = client.readValue(0, TimestampsToReturn.Both, flow);
            assertThat((Double) value.getValue().getValue()).isCloseTo(1200, within(1e-9));
            assertThat(value.getSourceTime().getJavaInstant()).isAfterOrEqualTo(set.minusMillis(1));
            assertThat(client.readValue(0, TimestampsToReturn.Both, NodeId.parse("ns=2;s=CDU-E-02/Pump1Running"))
                            .getValue()
                            .getValue())
                    .isInstanceOf(Boolean.class);
            StatusCode written = client.writeValues(List.of(flow), List.of(DataValue.valueOnly(Variant.ofDouble(1))))
                    .get(0);
            assertThat(written.value()).isEqualTo(StatusCodes.Bad_UserAccessDenied);
        } finally {
            client.disconnect();
        }
    }

    @Test
    void opcUaReportsAFailedSensorAndALostController() throws Exception {
        OpcUaClient client = OpcUaClient.create(line("west-opcua").endpoint());
        client.connect();
        try {
            NodeId failed = NodeId.parse("ns=2;s=CDU-W-02/TcsSupplyTempB");
            assertThat(client.readValue(0, TimestampsToReturn.Both, failed)
                            .getStatusCode()
                            .value())
                    .isEqualTo(StatusCodes.Bad_SensorFailure);
            fleet.change("W-01", unit -> unit.addFault(Units.since(unit.now(), FaultKind.LOST_CONTROLLER, 0, 1)));
            NodeId silent = NodeId.parse("ns=2;s=CDU-W-01/TcsFlow");
            await().atMost(PATIENCE)
                    .until(() -> client.readValue(0, TimestampsToReturn.Both, silent)
                                    .getStatusCode()
                                    .value()
                            == StatusCodes.Bad_NoCommunication);
        } finally {
            client.disconnect();
        }
    }

    @Test
    void modbusGivesScaledIntegersFloatsAndBitsAndTakesNoWrites() throws Exception {
        URI endpoint = URI.create(line("east-modbus").endpoint());
        ModbusTcpClient client = ModbusTcpClient.create(NettyTcpClientTransport.create(
                config -> config.setHostname(endpoint.getHost()).setPort(endpoint.getPort())));
        client.connect();
        try {
            fleet.change("E-06", unit -> unit.override(PointName.of("tcs.supply.temperature"), 35));
            fleet.change("E-06", unit -> unit.override(PointName.of("tcs.flow"), 0.0315450982));
            ByteBuffer registers = ByteBuffer.wrap(client.readInputRegisters(2, new ReadInputRegistersRequest(0, 20))
                    .registers());
            assertThat(registers.getShort(0)).isEqualTo((short) 950);
            int lowFirst = registers.getShort(10) & 0xFFFF | registers.getShort(12) << 16;
            assertThat(Float.intBitsToFloat(lowFirst)).isCloseTo(500f, within(0.01f));
            byte[] bits = client.readDiscreteInputs(2, new ReadDiscreteInputsRequest(0, 5))
                    .inputs();
            assertThat(bits[0] & 0x03).as("one pump of two runs").isIn(1, 2);
            assertThatThrownBy(() -> client.readInputRegisters(2, new ReadInputRegistersRequest(500, 2)))
                    .isInstanceOfSatisfying(
                            ModbusResponseException.class,
                            refused -> assertThat(refused.getExceptionCode()).isEqualTo(2));
            assertThatThrownBy(() -> client.writeSingleRegister(2, new WriteSingleRegisterRequest(0, 1)))
                    .isInstanceOfSatisfying(
                            ModbusResponseException.class,
                            refused -> assertThat(refused.getExceptionCode()).isEqualTo(1));
        } finally {
            client.disconnect();
        }
    }

    @Test
    void jsonMessagesCarryAllPointsOfAUnit() throws Exception {
        fleet.change("E-08", unit -> unit.override(PointName.of("tcs.return.flow"), 0.02));
        JsonNode message = await().atMost(PATIENCE)
                .until(
                        () -> messages.stream()
                                .filter(m -> m.topic().equals("centre/east/QE08/telemetry"))
                                .map(m -> json(m.payload()))
                                .filter(m -> m.path("values").path("F_TCS_RET").doubleValue() == -72)
                                .findFirst(),
                        Optional::isPresent)
                .orElseThrow();
        assertThat(message.path("unit").asText()).isEqualTo("QE08");
        assertThat(Instant.parse(message.path("time").asText())).isBefore(Instant.now());
        assertThat(message.path("values")).hasSize(43);
        assertThat(message.path("values").path("P1_RUN").isBoolean()).isTrue();
        assertThat(message.path("values").path("HEARTBEAT").isIntegralNumber()).isTrue();
    }

    private static JsonNode json(byte[] payload) {
        try {
            return new ObjectMapper().readTree(payload);
        } catch (java.io.IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    @Test
    void sparkplugIsBornAndThenSendsByAlias() throws Exception {
        String node = "spBv1.0/centre-west/%s/row-west";
        Map<Long, String> names = new HashMap<>();
        SparkplugBPayload birth = decode(first(node.formatted("DBIRTH") + "/W-10"));
        birth.getMetrics().forEach(metric -> names.put(metric.getAlias(), metric.getName()));
        assertThat(names).hasSize(44).containsValue("TCS/Supply Temp");
        SparkplugBPayload data = decode(first(node.formatted("DDATA") + "/W-10"));
        assertThat(data.getMetrics()).isNotEmpty().allSatisfy(metric -> {
            assertThat(metric.getName()).isNull();
            assertThat(names).containsKey(metric.getAlias());
        });
        assertThat(sequences("/row-west"))
                .isEqualTo(expectedSequences(sequences("/row-west").size()));
    }

    @Test
    void sparkplugIsRebornWhenAskedAndObeysNothingElse() throws Exception {
        FleetFile file = FleetFile.load(folder.resolve("fleet"));
        FleetFile.Line alone = new FleetFile.Line(
                "west-sparkplug", "mqtt-sparkplug", broker.address(), Map.of("topics", "spBv1.0/alone/#"));
        String node = "spBv1.0/alone/%s/row-west";
        try (SparkplugNode edge = new SparkplugNode(file, alone, broker.address(), Duration.ofDays(1))) {
            var unit = new VirtualUnit(Units.healthy("W-10"), Units.START);
            edge.show("W-10", unit.readings());
            publish(node.formatted("NCMD"), "Node Control/Reboot");
            publish(node.formatted("NCMD"), "Node Control/Rebirth");
            await().atMost(PATIENCE).until(() -> {
                edge.show("W-10", unit.readings());
                return count(node.formatted("NBIRTH")) == 2;
            });
        }
        await().atMost(PATIENCE).until(() -> count(node.formatted("NDEATH")) == 1);
        assertThat(count(node.formatted("NBIRTH"))).isEqualTo(2);
        long first = decode(first(node.formatted("NBIRTH"))).getMetrics().stream()
                .filter(metric -> metric.getName().equals("bdSeq"))
                .mapToLong(metric -> (Long) metric.getValue())
                .findFirst()
                .orElseThrow();
        assertThat(decode(first(node.formatted("NDEATH"))).getMetrics())
                .singleElement()
                .satisfies(metric -> assertThat(metric.getValue()).isEqualTo(first));
    }

    private static List<Integer> sequences(String part) throws Exception {
        List<Integer> all = new java.util.ArrayList<>();
        for (Message message : messages) {
            boolean ours = message.topic().contains(part) && !message.topic().contains("NCMD");
            if (message.topic().contains("/NBIRTH/") && ours && !all.isEmpty()) {
                return all;
            }
            if (ours && message.topic().startsWith("spBv1.0")) {
                all.add(decode(message.payload()).getSeq().intValue());
            }
        }
        return all;
    }

    private static List<Integer> expectedSequences(int size) {
        return java.util.stream.IntStream.range(0, size)
                .map(i -> i % 256)
                .boxed()
                .toList();
    }

    private static byte[] first(String topic) {
        return await().atMost(PATIENCE)
                .until(
                        () -> messages.stream()
                                .filter(message -> message.topic().equals(topic))
                                .findFirst(),
                        Optional::isPresent)
                .orElseThrow()
                .payload();
    }

    private static long count(String topic) {
        return messages.stream()
                .filter(message -> message.topic().equals(topic))
                .count();
    }

    private static SparkplugBPayload decode(byte[] payload) throws Exception {
        return new SparkplugBPayloadDecoder().buildFromByteArray(payload, null);
    }

    private static void publish(String topic, String command) throws Exception {
        Metric metric = new Metric.MetricBuilder(command, MetricDataType.Boolean, true).createMetric();
        byte[] payload = new SparkplugBPayloadEncoder()
                .getBytes(
                        new SparkplugBPayload.SparkplugBPayloadBuilder()
                                .addMetric(metric)
                                .createPayload(),
                        false);
        listener.publish(topic, new MqttMessage(payload));
    }

    @Test
    void controlEndpointSetsValuesInjectsFaultsAndTellsTheTruth() throws Exception {
        JsonNode set = post("/units/E-03/points/tcs.dp", "{\"value\": 123456}");
        assertThat(Instant.ofEpochMilli(set.path("epochMillis").asLong()))
                .isBefore(Instant.now().plusSeconds(1));
        post("/units/E-03/fault", "{\"kind\": \"leak\", \"step\": 2}");
        await().atMost(PATIENCE)
                .until(() -> get("/units/E-03/truth").path("leakM3PerS").doubleValue() > 5e-7);
        assertThat(get("/units/E-03/truth").path("exchangerUaWPerK")).hasSize(3);
        assertThat(post("/units/E-03/fault", "{\"kind\": \"gremlin\"}")
                        .path("error")
                        .asText())
                .contains("gremlin");
        assertThat(post("/units/E-99/points/tcs.dp", "{\"value\": 1}")
                        .path("error")
                        .asText())
                .contains("E-99");
        assertThat(post("/units/E-03/points/tcs.pressure", "{\"value\": 1}")
                        .path("error")
                        .asText())
                .contains("did you mean");
    }

    private static JsonNode post(String path, String body) throws Exception {
        return send(HttpRequest.newBuilder(URI.create(control.address() + path))
                .POST(HttpRequest.BodyPublishers.ofString(body, StandardCharsets.UTF_8))
                .build());
    }

    private static JsonNode get(String path) throws Exception {
        return send(HttpRequest.newBuilder(URI.create(control.address() + path)).build());
    }

    private static JsonNode send(HttpRequest request) throws Exception {
        return json(HttpClient.newHttpClient()
                .send(request, HttpResponse.BodyHandlers.ofByteArray())
                .body());
    }

    @Test
    void theTruthIsWrittenBesideForEachUnit() throws Exception {
        Path truth = folder.resolve("truth");
        assertThat(truth).isDirectoryContaining("glob:**E-07.jsonl");
        try (var files = Files.list(truth)) {
            assertThat(files).hasSize(24);
        }
        JsonNode line =
                json(Files.readAllLines(truth.resolve("E-07.jsonl")).get(0).getBytes(StandardCharsets.UTF_8));
        assertThat(line.path("uaWPerK").doubleValue()).isBetween(3e5, 6e5);
    }
}
