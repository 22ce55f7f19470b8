package io.loopwarden.bench;

import com.digitalpetri.modbus.client.ModbusTcpClient;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersResponse;
import com.digitalpetri.modbus.server.ModbusRequestContext;
import com.digitalpetri.modbus.server.ModbusServices;
import com.digitalpetri.modbus.server.ModbusTcpServer;
import com.digitalpetri.modbus.tcp.client.NettyTcpClientTransport;
import com.digitalpetri.modbus.tcp.server.NettyTcpServerTransport;
import io.loopwarden.collector.Connection;
import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.modbus.ModbusCollector;
import io.loopwarden.modbus.ModbusSettings;
import io.loopwarden.pointmap.PointMap;
import io.loopwarden.pointmap.RegisterLayout;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.ByteBuffer;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.IntStream;

/** Modbus blocks of 40 values read and committed, against a bare client that reads the same blocks one after another. */
final class ModbusRate implements BenchMain.Row {

    private static final int UNITS = 100;
    private static final int REGISTERS = 2 * MadeScans.POINTS;

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int blocks = wanted.of(300, 10_000, 30_000);
        int runs = wanted.of(1, 5, 7);
        double[] one = new double[runs];
        double[] several = new double[runs];
        double[] bare = new double[runs];
        int port = freePort();
        ModbusTcpServer server = server(port);
        server.start();
        try (BenchStore database = new BenchStore()) {
            if (wanted.size() != Wanted.Size.TINY) {
                bare(port, blocks);
                ours(database, port, blocks, 1);
            }
            for (int run = 0; run < runs; run++) {
                bare[run] = bare(port, blocks);
                one[run] = ours(database, port, blocks, 1);
                several[run] = ours(database, port, blocks, 16);
            }
        } finally {
            server.stop();
        }
        return Sheet.of(
                Line.rate(
                        "Modbus blocks of 40 values committed, one request at once, against a bare client",
                        Runs.of(one),
                        Runs.of(bare),
                        "blocks/s",
                        0.8),
                Line.rate(
                        "the same with 16 requests at once, as by default",
                        Runs.of(several),
                        Runs.of(bare),
                        "blocks/s",
                        0.8));
    }

    private static int freePort() throws java.io.IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        }
    }

    private static ModbusTcpServer server(int port) {
        var transport = NettyTcpServerTransport.create(
                config -> config.setBindAddress("127.0.0.1").setPort(port));
        return ModbusTcpServer.create(transport, new ChangingValues());
    }

    /** Holding registers with a new number in every answer. */
    private static final class ChangingValues implements ModbusServices {

        private final SplittableRandom random = new SplittableRandom(3);

        @Override
        public ReadHoldingRegistersResponse readHoldingRegisters(
                ModbusRequestContext context, int unit, ReadHoldingRegistersRequest request) {
            ByteBuffer registers = ByteBuffer.allocate(2 * request.quantity());
            synchronized (random) {
                while (registers.remaining() >= Float.BYTES) {
                    registers.putFloat(random.nextInt(100_000) / 1000f);
                }
            }
            return new ReadHoldingRegistersResponse(registers.array());
        }
    }

    private static double bare(int port, int blocks) throws Exception {
        var transport = NettyTcpClientTransport.create(
                config -> config.setHostname("127.0.0.1").setPort(port));
        ModbusTcpClient client = ModbusTcpClient.create(transport);
        client.connect();
        try {
            long begin = System.nanoTime();
            for (int i = 0; i < blocks; i++) {
                client.readHoldingRegisters(1 + i % UNITS, new ReadHoldingRegistersRequest(0, REGISTERS));
            }
            return blocks / ((System.nanoTime() - begin) / 1e9);
        } finally {
            client.disconnect();
        }
    }

    private static double ours(BenchStore database, int port, int blocks, int atOnce) throws Exception {
        Connection connection = connection(port);
        ModbusSettings d = ModbusSettings.from(connection);
        ModbusSettings settings = new ModbusSettings(
                Duration.ofMillis(1),
                d.timeout(),
                d.connectTimeout(),
                d.retries(),
                d.maxRegisters(),
                d.maxBits(),
                d.bridgeRegisters(),
                d.bridgeBits(),
                atOnce,
                d.refusedRetry(),
                d.reconnect());
        try (Pipeline pipeline = new Pipeline(database, connection);
                ModbusCollector collector = new ModbusCollector(
                        connection, settings, pipeline.intake, pipeline.rejects, Clock.systemUTC())) {
            collector.start();
            pipeline.awaitCommitted((long) UNITS * MadeScans.POINTS, System.nanoTime()); // connected, first round over
            long before = pipeline.committed();
            long begin = System.nanoTime();
            double seconds = pipeline.awaitCommitted(before + (long) blocks * MadeScans.POINTS, begin);
            return (pipeline.committed() - before) / (double) MadeScans.POINTS / seconds;
        }
    }

    private static Connection connection(int port) {
        List<PointName> points = MadeScans.names(MadeScans.POINTS);
        List<PointMap.Entry> entries = new ArrayList<>();
        for (int p = 0; p < points.size(); p++) {
            PointName point = points.get(p);
            RegisterLayout layout = new RegisterLayout(
                    RegisterLayout.Table.HOLDING,
                    2 * p,
                    RegisterLayout.Type.FLOAT32,
                    RegisterLayout.WordOrder.HIGH_FIRST);
            entries.add(new PointMap.Entry(
                    point, "holding/" + 2 * p, Conversion.none(point.quantity()), layout, -1e9, 1e9));
        }
        PointMap map = new PointMap("rate", "modbus-tcp", entries);
        return new Connection(
                "rate",
                "modbus-tcp",
                URI.create("modbus://127.0.0.1:" + port),
                Map.of(),
                IntStream.rangeClosed(1, UNITS)
                        .mapToObj(
                                unit -> new Connection.ServedUnit(new UnitId("M-" + unit), Integer.toString(unit), map))
                        .toList());
    }
}
