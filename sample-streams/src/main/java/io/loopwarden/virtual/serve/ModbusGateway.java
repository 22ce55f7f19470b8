package io.loopwarden.virtual.serve;

import com.digitalpetri.modbus.ExceptionCode;
import com.digitalpetri.modbus.FunctionCode;
import com.digitalpetri.modbus.exceptions.ModbusResponseException;
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
import io.loopwarden.virtual.Readings;
import io.loopwarden.virtual.scenario.FleetFile;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/** A Modbus TCP gateway in front of several units; read only. Each unit's registers change all at once. */
public final class ModbusGateway implements Served {

    private final List<UnitTags> units;
    private final Map<Integer, Optional<RegisterImage>> images = new ConcurrentHashMap<>();
    private final int port;
    private final ModbusTcpServer server;

    public ModbusGateway(FleetFile fleet, FleetFile.Line line) {
        this.units = UnitTags.of(fleet, line);
        units.forEach(unit -> images.put(number(unit), Optional.empty()));
        this.port = FreePort.find();
        this.server = ModbusTcpServer.create(
                NettyTcpServerTransport.create(
                        config -> config.setBindAddress("127.0.0.1").setPort(port)),
                new Answers());
        try {
            server.start();
        } catch (Exception e) {
            throw new IllegalStateException("Modbus gateway " + line.name() + " cannot listen on port " + port, e);
        }
    }

    private static int number(UnitTags unit) {
        return Integer.parseInt(unit.nameAtSource());
    }

    @Override
    public void show(String id, Readings readings) {
        for (UnitTags unit : units) {
            if (unit.id().equals(id)) {
                images.put(number(unit), Optional.of(RegisterImage.of(unit, readings)));
            }
        }
    }

    @Override
    public void silence(String id) {
        for (UnitTags unit : units) {
            if (unit.id().equals(id)) {
                images.put(number(unit), Optional.empty());
            }
        }
    }

    @Override
    public String endpoint() {
        return "modbus://127.0.0.1:" + port;
    }

    @Override
    public void close() {
        try {
            server.stop();
        } catch (Exception e) {
            throw new IllegalStateException("Modbus gateway on port " + port + " did not stop", e);
        }
    }

    /** Answers to the four reads; whoever writes gets the library's "illegal function". */
    private final class Answers implements ModbusServices {

        @Override
        public ReadInputRegistersResponse readInputRegisters(
                ModbusRequestContext context, int unit, ReadInputRegistersRequest request)
                throws ModbusResponseException {
            return new ReadInputRegistersResponse(
                    registers("input", unit, FunctionCode.READ_INPUT_REGISTERS, request.address(), request.quantity()));
        }

        @Override
        public ReadHoldingRegistersResponse readHoldingRegisters(
                ModbusRequestContext context, int unit, ReadHoldingRegistersRequest request)
                throws ModbusResponseException {
            return new ReadHoldingRegistersResponse(registers(
                    "holding", unit, FunctionCode.READ_HOLDING_REGISTERS, request.address(), request.quantity()));
        }

        @Override
        public ReadDiscreteInputsResponse readDiscreteInputs(
                ModbusRequestContext context, int unit, ReadDiscreteInputsRequest request)
                throws ModbusResponseException {
            return new ReadDiscreteInputsResponse(
                    bits("discrete", unit, FunctionCode.READ_DISCRETE_INPUTS, request.address(), request.quantity()));
        }

        @Override
        public ReadCoilsResponse readCoils(ModbusRequestContext context, int unit, ReadCoilsRequest request)
                throws ModbusResponseException {
            return new ReadCoilsResponse(
                    bits("coil", unit, FunctionCode.READ_COILS, request.address(), request.quantity()));
        }

        private byte[] registers(String table, int unit, FunctionCode function, int address, int quantity)
                throws ModbusResponseException {
            RegisterImage image = image(unit, function);
            return image.registers(table, address, quantity)
                    .orElseThrow(() -> new ModbusResponseException(function, ExceptionCode.ILLEGAL_DATA_ADDRESS));
        }

        private byte[] bits(String table, int unit, FunctionCode function, int address, int quantity)
                throws ModbusResponseException {
            return image(unit, function)
                    .bits(table, address, quantity)
                    .orElseThrow(() -> new ModbusResponseException(function, ExceptionCode.ILLEGAL_DATA_ADDRESS));
        }

        private RegisterImage image(int unit, FunctionCode function) throws ModbusResponseException {
            Optional<RegisterImage> image = images.get(unit);
            if (image == null) {
                throw new ModbusResponseException(function, ExceptionCode.GATEWAY_PATH_UNAVAILABLE);
            }
            return image.orElseThrow(() ->
                    new ModbusResponseException(function, ExceptionCode.GATEWAY_TARGET_DEVICE_FAILED_TO_RESPONSE));
        }
    }
}
