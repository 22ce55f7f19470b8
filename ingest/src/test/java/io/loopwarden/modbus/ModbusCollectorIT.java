package io.loopwarden.modbus;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.digitalpetri.modbus.ExceptionCode;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RecordingSink;
import io.loopwarden.collector.RecordingSink.Delivery;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.pointmap.PointMap;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class ModbusCollectorIT {

    private static final Duration PATIENCE = Duration.ofSeconds(15);
    private static final PointMap MIXED = TestMaps.map(
            "point: tcs.supply.temperature, source: holding/0, type: int16, unit: Cel, scale: 0.1, no-value: [0x7FFF]",
            "point: tcs.flow, source: holding/1, type: float32, words: low-first, unit: L/s",
            "point: pump.1.starts, source: input/7, type: uint64, words: high-first",
            "point: pump.1.running, source: coil/3",
            "point: tray.wet, source: discrete/9");
    private static final PointMap ROW = TestMaps.map(
            "point: tcs.supply.temperature, source: holding/0, type: int16, unit: Cel",
            "point: tcs.return.temperature, source: holding/1, type: int16, unit: Cel",
            "point: fws.supply.temperature, source: holding/2, type: int16, unit: Cel",
            "point: fws.return.temperature, source: holding/3, type: int16, unit: Cel",
            "point: tcs.flow, source: holding/4, type: float32, words: high-first, unit: L/s");

    private final RecordingSink sink = new RecordingSink();
    private final RejectLog rejects = new RejectLog(Clock.systemUTC());
    private TestDevice device;
    private ModbusCollector collector;

    @BeforeEach
    void startDevice() throws Exception {
        device = new TestDevice();
        device.start();
    }

    @AfterEach
    void stopAll() throws Exception {
        if (collector != null) {
            collector.close();
        }
        device.stop();
    }

    @Test
    void everyTableAndTypeIsReadInOneScanPerRound() {
        device.registers.putAll(Map.of(0, 355, 1, 0x0000, 2, 0x420E, 7, 0x0020, 10, 1));
        device.bits.add(3);
        collect(TestMaps.quick(), TestMaps.served("W-01", "1", MIXED));
        await().atMost(PATIENCE).until(() -> sink.deliveries().size() >= 3);
        for (Delivery scan : sink.deliveries()) {
            Map<String, RawValue> values =
                    scan.readings().stream().collect(Collectors.toMap(RawReading::source, RawReading::value));
            assertThat(values)
                    .isEqualTo(Map.of(
                            "holding/0", RawValue.of(355L),
                            "holding/1", RawValue.of(35.5),
                            "input/7", RawValue.of(9007199254740993L),
                            "coil/3", RawValue.of(true),
                            "discrete/9", RawValue.of(false)));
            assertThat(scan.readings())
                    .allSatisfy(reading -> assertThat(reading.quality()).isEqualTo(Quality.GOOD));
        }
        assertThat(List.copyOf(device.asked).subList(0, 4))
                .extracting(TestDevice.Asked::quantity)
                .as("two holding values in one request")
                .containsExactly(3, 4, 1, 1);
    }

    @Test
    void markerIsBadAndCountedAndItsNeighbourGood() {
        device.registers.put(0, 0x7FFF);
        collect(TestMaps.quick(), TestMaps.served("W-01", "1", MIXED));
        await().atMost(PATIENCE).until(() -> sink.hasBad("holding/0") && sink.hasGood("holding/1", 0));
        assertThat(rejects.entries().get(0).reason()).isEqualTo(RejectReason.NOT_A_NUMBER);
        assertThat(rejects.entries().get(0).lastDetail()).contains("W-01", "holding/0");
        assertThat(rejects.entries().get(0).lastPayload()).isEqualTo("7fff");
    }

    @Test
    void refusedRegisterDoesNotTakeOutItsNeighbours() {
        device.refusedAddresses.put(2, ExceptionCode.ILLEGAL_DATA_ADDRESS);
        collect(TestMaps.quick(), TestMaps.served("W-01", "1", ROW));
        await().atMost(PATIENCE).until(() -> sink.deliveries().size() >= 3);
        for (Delivery scan : sink.deliveries()) {
            assertThat(byLevel(scan, Level.BAD)).containsExactly("holding/2");
            assertThat(byLevel(scan, Level.GOOD))
                    .containsExactlyInAnyOrder("holding/0", "holding/1", "holding/3", "holding/4");
            assertThat(scan.readings().stream()
                            .filter(r -> !r.quality().isGood())
                            .findFirst()
                            .orElseThrow()
                            .quality())
                    .isEqualTo(new Quality(Level.BAD, 2));
        }
        assertThat(rejects.count(RejectReason.UNKNOWN_TAG))
                .as("counted once, not each round")
                .isEqualTo(1);
        assertThat(device.asked.stream()
                        .filter(asked -> asked.address() <= 2 && asked.address() + asked.quantity() > 2))
                .as(
                        "requests that touch the refused register, over %d rounds",
                        sink.deliveries().size())
                .hasSizeLessThanOrEqualTo(4);
        assertThat(collector.status().detail()).isEqualTo("registers refused as unknown: 1; correct the point map");
    }

    @Test
    void refusedRegisterIsAskedForAgainAndComesBack() {
        device.refusedAddresses.put(2, ExceptionCode.ILLEGAL_DATA_ADDRESS);
        collect(TestMaps.quick("refused-retry", "PT0.3S"), TestMaps.served("W-01", "1", ROW));
        await().atMost(PATIENCE).until(() -> sink.hasBad("holding/2"));
        device.registers.put(2, 21);
        device.refusedAddresses.clear();
        await().atMost(PATIENCE).until(() -> sink.hasGood("holding/2", 21));
        await().atMost(PATIENCE).until(() -> collector.status().detail().isEmpty());
    }

    @Test
    void exceptionCodeIsTheQualityOfTheWholeBlock() {
        device.refusedAddresses.put(2, ExceptionCode.SLAVE_DEVICE_BUSY);
        collect(TestMaps.quick(), TestMaps.served("W-01", "1", ROW));
        await().atMost(PATIENCE).until(() -> sink.deliveries().size() >= 2);
        assertThat(sink.deliveries().get(0).readings())
                .hasSize(5)
                .allSatisfy(reading -> assertThat(reading.quality()).isEqualTo(new Quality(Level.BAD, 6)));
        assertThat(rejects.entries()).as("busy is a state, not a wrong map").isEmpty();
        device.refusedAddresses.clear();
        await().atMost(PATIENCE).until(() -> sink.hasGood("holding/0", 0));
    }

    @Test
    void silentUnitIsBadAndDelaysNoOther() {
        device.silentUnits.add(2);
        collect(
                TestMaps.quick("timeout", "PT3S"),
                TestMaps.served("W-01", "1", ROW),
                TestMaps.served("W-02", "2", ROW),
                TestMaps.served("W-03", "3", ROW));
        await().atMost(PATIENCE).until(() -> scansOf("W-02").size() >= 2);
        assertThat(scansOf("W-02").get(0).readings())
                .hasSize(5)
                .allSatisfy(reading -> assertThat(reading.value()).isEqualTo(RawValue.NONE));
        assertThat(longestPause(scansOf("W-01")))
                .as("pause between scans of a healthy unit, polled each 50 ms")
                .isLessThan(Duration.ofSeconds(2));
        assertThat(scansOf("W-03").size()).isGreaterThan(10);
        assertThat(collector.status().state()).isEqualTo(State.CONNECTED);
        assertThat(collector.status().detail()).contains("no answer from W-02 (Modbus unit 2)");
        device.silentUnits.clear();
        await().atMost(PATIENCE)
                .until(() -> scansOf("W-02").stream()
                        .anyMatch(scan -> scan.readings().get(0).quality().isGood()));
        await().atMost(PATIENCE).until(() -> collector.status().detail().isEmpty());
    }

    @Test
    void gatewayThatDoesNotReachADeviceSaysSoInTheQuality() {
        device.refusingUnits.put(2, ExceptionCode.GATEWAY_TARGET_DEVICE_FAILED_TO_RESPONSE);
        collect(TestMaps.quick(), TestMaps.served("W-01", "1", MIXED), TestMaps.served("W-02", "2", MIXED));
        await().atMost(PATIENCE).until(() -> !scansOf("W-02").isEmpty() && sink.hasGood("coil/3", 0));
        assertThat(scansOf("W-02").get(0).readings())
                .hasSize(5)
                .allSatisfy(reading -> assertThat(reading.quality()).isEqualTo(new Quality(Level.BAD, 11)));
        assertThat(collector.status().state()).isEqualTo(State.CONNECTED);
    }

    @Test
    void serverThatAcceptsAndNeverAnswersIsNotConnected() {
        device.silentUnits.add(1);
        collect(TestMaps.quick("timeout", "PT0.2S"), TestMaps.served("W-01", "1", ROW));
        await().atMost(PATIENCE).until(() -> collector.status().detail().contains("no unit answers within PT0.2S"));
        assertThat(collector.status().state()).isEqualTo(State.CONNECTING);
        device.silentUnits.clear();
        await().atMost(PATIENCE).until(() -> collector.status().state() == State.CONNECTED);
    }

    @Test
    void lostConnectionMarksEveryPointOnce() throws Exception {
        collect(TestMaps.quick(), TestMaps.served("W-01", "1", ROW));
        await().atMost(PATIENCE).until(() -> sink.hasGood("holding/0", 0));
        device.stop();
        await().atMost(PATIENCE).until(() -> collector.status().state() == State.LOST);
        await().atMost(PATIENCE).until(() -> sink.hasBad("holding/4"));
        Delivery last = sink.deliveries().get(sink.deliveries().size() - 1);
        assertThat(byLevel(last, Level.BAD)).hasSize(5);
    }

    private void collect(String[] settings, ServedUnit... units) {
        Connection connection = TestMaps.connection(device.endpoint(), List.of(units), settings);
        collector = new ModbusCollector(connection, ModbusSettings.from(connection), sink, rejects, Clock.systemUTC());
        collector.start();
    }

    private List<Delivery> scansOf(String unit) {
        return sink.deliveries().stream()
                .filter(delivery -> delivery.unit().value().equals(unit))
                .toList();
    }

    private static List<String> byLevel(Delivery scan, Level level) {
        return scan.readings().stream()
                .filter(reading -> reading.quality().level() == level)
                .map(RawReading::source)
                .toList();
    }

    private static Duration longestPause(List<Delivery> scans) {
        List<Duration> pauses = new ArrayList<>();
        for (int i = 1; i < scans.size(); i++) {
            pauses.add(
                    Duration.between(scans.get(i - 1).receivedAt(), scans.get(i).receivedAt()));
        }
        return pauses.stream().max(Duration::compareTo).orElse(Duration.ZERO);
    }
}
