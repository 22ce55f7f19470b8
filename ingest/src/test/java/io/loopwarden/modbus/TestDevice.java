package io.loopwarden.modbus;

import com.digitalpetri.modbus.ExceptionCode;
import com.digitalpetri.modbus.FunctionCode;
import com.digitalpetri.modbus.exceptions.ModbusResponseException;
import com.digitalpetri.modbus.exceptions.UnknownUnitIdException;
import com.digitalpetri.modbus.pdu.ReadCoilsRequest;
import com.digitalpetri.modbus.pdu.ReadCoilsResponse;
import com.digitalpetri.modbus.pdu.ReadDiscreteInputsRequest;
import com.digitalpetri.modbus.pdu.ReadDiscreteInputsResponse;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersResponse;
import com.digitalpetri.modbus.pdu.ReadInputRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadInputRegistersResponse;
import com.digitalpetri.modbus.server.ModbusRequestContext;
import com.digitalpetri.modbus.server.ModbusServices;
import com.digitalpetri.modbus.server.ModbusTcpServer;
import com.digitalpetri.modbus.tcp.server.NettyTcpServerTransport;
import io.netty.channel.ChannelOption;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;

/** A Modbus TCP server with the same memory under every unit number, whose misbehaviour a test chooses. */
final class TestDevice {

    /** One request as it came. */
    record Asked(int unit, FunctionCode function, int address, int quantity) {}

    final Map<Integer, Integer> registers = new ConcurrentHashMap<>();
    final Set<Integer> bits = ConcurrentHashMap.newKeySet();
    final Map<Integer, ExceptionCode> refusedAddresses = new ConcurrentHashMap<>();
    final Map<Integer, ExceptionCode> refusingUnits = new ConcurrentHashMap<>();
    final Set<Integer> silentUnits = ConcurrentHashMap.newKeySet();
    final List<Asked> asked = new CopyOnWriteArrayList<>();
    private final int port;
    private ModbusTcpServer server;

    TestDevice() throws IOException {
        try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = free.getLocalPort();
        }
    }

    URI endpoint() {
        return URI.create("modbus://127.0.0.1:" + port);
    }

    void start() throws Exception {
        var transport = NettyTcpServerTransport.create(config -> config.setBindAddress("127.0.0.1")
                .setPort(port)
                .setBootstrapCustomizer(bootstrap -> bootstrap.option(ChannelOption.SO_REUSEADDR, true)));
        server = ModbusTcpServer.create(transport, new Services());
        server.start();
    }

    void stop() throws Exception {
        if (server != null) {
            server.stop();
            server = null;
        }
    }

    void setFloat(int address, double value) {
        int bitsOfValue = Float.floatToIntBits((float) value);
        registers.put(address, bitsOfValue >>> 16);
        registers.put(address + 1, bitsOfValue & 0xFFFF);
    }

    /** Threads of the server, and those the library shares over the process. */
    static boolean owns(Thread thread) {
        String name = thread.getName();
        return name.startsWith("modbus-")
                || name.startsWith("multiThreadIoEventLoopGroup")
                || name.startsWith("nioEventLoopGroup")
                || name.startsWith("globalEventExecutor")
                || name.startsWith("pool-");
    }

    private final class Services implements ModbusServices {

        @Override
        public ReadHoldingRegistersResponse readHoldingRegisters(
                ModbusRequestContext context, int unit, ReadHoldingRegistersRequest request)
                throws ModbusResponseException, UnknownUnitIdException {
            check(unit, FunctionCode.READ_HOLDING_REGISTERS, request.address(), request.quantity());
            return new ReadHoldingRegistersResponse(words(request.address(), request.quantity()));
        }

        @Override
        public ReadInputRegistersResponse readInputRegisters(
                ModbusRequestContext context, int unit, ReadInputRegistersRequest request)
                throws ModbusResponseException, UnknownUnitIdException {
            check(unit, FunctionCode.READ_INPUT_REGISTERS, request.address(), request.quantity());
            return new ReadInputRegistersResponse(words(request.address(), request.quantity()));
        }

        @Override
        public ReadCoilsResponse readCoils(ModbusRequestContext context, int unit, ReadCoilsRequest request)
                throws ModbusResponseException, UnknownUnitIdException {
            check(unit, FunctionCode.READ_COILS, request.address(), request.quantity());
            return new ReadCoilsResponse(packed(request.address(), request.quantity()));
        }

        @Override
        public ReadDiscreteInputsResponse readDiscreteInputs(
                ModbusRequestContext context, int unit, ReadDiscreteInputsRequest request)
                throws ModbusResponseException, UnknownUnitIdException {
            check(unit, FunctionCode.READ_DISCRETE_INPUTS, request.address(), request.quantity());
            return new ReadDiscreteInputsResponse(packed(request.address(), request.quantity()));
        }

        private void check(int unit, FunctionCode function, int address, int quantity)
                throws ModbusResponseException, UnknownUnitIdException {
            asked.add(new Asked(unit, function, address, quantity));
            if (silentUnits.contains(unit)) {
                throw new UnknownUnitIdException(unit);
            }
            if (refusingUnits.containsKey(unit)) {
                throw new ModbusResponseException(function, refusingUnits.get(unit));
            }
            for (int one = address; one < address + quantity; one++) {
                if (refusedAddresses.containsKey(one)) {
                    throw new ModbusResponseException(function, refusedAddresses.get(one));
                }
            }
        }

        private byte[] words(int address, int quantity) {
            byte[] bytes = new byte[2 * quantity];
            for (int i = 0; i < quantity; i++) {
                int word = registers.getOrDefault(address + i, 0);
                bytes[2 * i] = (byte) (word >> 8);
                bytes[2 * i + 1] = (byte) word;
            }
            return bytes;
        }

        private byte[] packed(int address, int quantity) {
            byte[] bytes = new byte[(quantity + 7) / 8];
            for (int i = 0; i < quantity; i++) {
                if (bits.contains(address + i)) {
                    bytes[i / 8] |= (byte) (1 << i % 8);
                }
            }
            return bytes;
        }
    }
}
