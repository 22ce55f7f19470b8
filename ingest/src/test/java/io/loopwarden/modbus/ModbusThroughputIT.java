package io.loopwarden.modbus;

import static org.assertj.core.api.Assertions.assertThat;

import com.digitalpetri.modbus.client.ModbusTcpClient;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersRequest;
import com.digitalpetri.modbus.tcp.client.NettyTcpClientTransport;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.RejectLog;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Rounds back to back against the bare client reading the same blocks, both over loopback. */
class ModbusThroughputIT {

    private static final int ROUNDS = 30;
    private static final int BLOCKS = 4;
    private static final int PAIRS = 9;

    @Test
    void roundsReachMostOfTheBareClientsRate() throws Exception {
        TestDevice device = new TestDevice();
        device.start();
        ExecutorService worker = Executors.newSingleThreadExecutor();
        try {
            double ratio = 0;
            for (int attempt = 0; attempt < 3 && ratio < 0.8; attempt++) {
                ratio = medianRatio(device, worker);
            }
            assertThat(ratio)
                    .as("goal 0.8; below 0.5 it is not the load of a shared machine")
                    .isGreaterThanOrEqualTo(0.5);
        } finally {
            worker.shutdown();
            device.stop();
        }
    }

    /** Short turns side by side, so that other load on the machine falls on both. */
    private static double medianRatio(TestDevice device, ExecutorService worker) throws Exception {
        List<Double> ours = new ArrayList<>();
        List<Double> ratios = new ArrayList<>();
        for (int pair = 0; pair < PAIRS; pair++) {
            double bare = bareBlocksPerS(device);
            ours.add(ourBlocksPerS(device, worker));
            ratios.add(ours.get(pair) / bare);
        }
        System.out.printf(
                "modbus: %.0f blocks/s of 125 registers read and decoded, %.2f of the bare client (medians of %d turns)%n",
                median(ours), median(ratios), PAIRS);
        return median(ratios);
    }

    private static double median(List<Double> values) {
        return values.stream().sorted().toList().get(values.size() / 2);
    }

    private static double bareBlocksPerS(TestDevice device) throws Exception {
        var transport = NettyTcpClientTransport.create(config ->
                config.setHostname("127.0.0.1").setPort(device.endpoint().getPort()));
        ModbusTcpClient client = ModbusTcpClient.create(transport);
        client.connect();
        try {
            long begin = System.nanoTime();
            for (int i = 0; i < ROUNDS * BLOCKS; i++) {
                client.readHoldingRegisters(1, new ReadHoldingRegistersRequest(i % BLOCKS * 125, 125));
            }
            device.asked.clear();
            return ROUNDS * BLOCKS / ((System.nanoTime() - begin) / 1e9);
        } finally {
            client.disconnect();
        }
    }

    private static double ourBlocksPerS(TestDevice device, ExecutorService worker) throws Exception {
        List<Register> registers = IntStream.range(0, BLOCKS * 125)
                .mapToObj(address -> BlockPlanTest.register("h" + address + ":INT16"))
                .toList();
        Connection connection = TestMaps.connection(device.endpoint(), List.of());
        ModbusSettings settings = ModbusSettings.from(connection);
        ModbusLink link = new ModbusLink(connection.endpoint(), settings, Clock.systemUTC(), () -> {});
        var served = TestMaps.served(
                "W-01", "1", TestMaps.map("point: tcs.flow, source: holding/0, type: int16, unit: L/s"));
        PolledUnit unit = new PolledUnit(served, "line", settings, new RejectLog(Clock.systemUTC()));
        List<Block> blocks = BlockPlan.of(registers, settings);
        assertThat(blocks).hasSize(BLOCKS);
        link.connect().get();
        try {
            long begin = System.nanoTime();
            for (int i = 0; i < ROUNDS; i++) {
                UnitRound round = new UnitRound(link, unit, blocks, Clock.systemUTC(), worker);
                assertThat(round.run().get()).isEqualTo(UnitRound.End.ANSWERED);
                assertThat(round.readings()).hasSize(BLOCKS * 125);
            }
            device.asked.clear();
            return ROUNDS * BLOCKS / ((System.nanoTime() - begin) / 1e9);
        } finally {
            link.disconnect().get();
        }
    }
}
