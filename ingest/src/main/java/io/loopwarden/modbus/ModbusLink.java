package io.loopwarden.modbus;

import com.digitalpetri.modbus.client.ModbusTcpClient;
import com.digitalpetri.modbus.exceptions.ModbusResponseException;
import com.digitalpetri.modbus.exceptions.ModbusTimeoutException;
import com.digitalpetri.modbus.pdu.ModbusRequestPdu;
import com.digitalpetri.modbus.pdu.ModbusResponsePdu;
import com.digitalpetri.modbus.pdu.ReadCoilsRequest;
import com.digitalpetri.modbus.pdu.ReadCoilsResponse;
import com.digitalpetri.modbus.pdu.ReadDiscreteInputsRequest;
import com.digitalpetri.modbus.pdu.ReadDiscreteInputsResponse;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersResponse;
import com.digitalpetri.modbus.pdu.ReadInputRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadInputRegistersResponse;
import com.digitalpetri.modbus.tcp.client.NettyTcpClientTransport;
import io.loopwarden.modbus.Answer.Broken;
import io.loopwarden.modbus.Answer.Data;
import io.loopwarden.modbus.Answer.Malformed;
import io.loopwarden.modbus.Answer.Refused;
import io.loopwarden.modbus.Answer.Silent;
import java.net.URI;
import java.time.Clock;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeoutException;

/** One TCP connection and the four requests that read. Connects once; what comes after a loss is the collector's business. */
final class ModbusLink {

    private final NettyTcpClientTransport transport;
    private final ModbusTcpClient client;
    private final Gate gate;
    private final int retries;
    private final Clock clock;

    /** @param onLost called once connected and lost again, in a thread of the library's */
    ModbusLink(URI endpoint, ModbusSettings settings, Clock clock, Runnable onLost) {
        int port = endpoint.getPort() < 0 ? ModbusSettings.DEFAULT_PORT : endpoint.getPort();
        this.transport = NettyTcpClientTransport.create(config -> config.setHostname(endpoint.getHost())
                .setPort(port)
                .setConnectPersistent(false)
                .setConnectTimeout(settings.connectTimeout()));
        this.client = ModbusTcpClient.create(transport, config -> config.setRequestTimeout(settings.timeout()));
        this.gate = new Gate(settings.maxInFlight());
        this.retries = settings.retries();
        this.clock = clock;
        transport.addConnectionListener(new NettyTcpClientTransport.ConnectionListener() {
            @Override
            public void onConnection() {}

            @Override
            public void onConnectionLost() {
                onLost.run();
            }
        });
    }

    CompletableFuture<Void> connect() {
        return client.connectAsync().toCompletableFuture();
    }

    CompletableFuture<Void> disconnect() {
        return client.disconnectAsync().toCompletableFuture();
    }

    /** Reads one block; never completes exceptionally. */
    CompletableFuture<Answer> read(int unitNumber, Block block) {
        return gate.pass(() -> attempt(unitNumber, block, retries));
    }

    private CompletableFuture<Answer> attempt(int unitNumber, Block block, int retriesLeft) {
        return client.sendAsync(unitNumber, request(block))
                .toCompletableFuture()
                .handle((response, failure) -> failure == null ? check(response, block) : answerOf(failure))
                .thenCompose(answer -> answer instanceof Silent && retriesLeft > 0
                        ? attempt(unitNumber, block, retriesLeft - 1)
                        : CompletableFuture.completedFuture(answer));
    }

    private static ModbusRequestPdu request(Block block) {
        return switch (block.table()) {
            case HOLDING -> new ReadHoldingRegistersRequest(block.address(), block.quantity());
            case INPUT -> new ReadInputRegistersRequest(block.address(), block.quantity());
            case COIL -> new ReadCoilsRequest(block.address(), block.quantity());
            case DISCRETE -> new ReadDiscreteInputsRequest(block.address(), block.quantity());
        };
    }

    private Answer check(ModbusResponsePdu response, Block block) {
        byte[] bytes = bytes(response);
        return bytes.length == block.answerBytes()
                ? new Data(bytes, clock.instant())
                : new Malformed(
                        bytes,
                        "answer of " + bytes.length + " bytes to a request for " + block.answerBytes(),
                        clock.instant());
    }

    private static byte[] bytes(ModbusResponsePdu response) {
        if (response instanceof ReadHoldingRegistersResponse holding) {
            return holding.registers();
        }
        if (response instanceof ReadInputRegistersResponse input) {
            return input.registers();
        }
        if (response instanceof ReadCoilsResponse coils) {
            return coils.coils();
        }
        return response instanceof ReadDiscreteInputsResponse discrete ? discrete.inputs() : new byte[0];
    }

    private Answer answerOf(Throwable failure) {
        for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
            if (cause instanceof ModbusResponseException refused) {
                return new Refused(refused.getExceptionCode(), clock.instant());
            }
            if (cause instanceof ModbusTimeoutException || cause instanceof TimeoutException) {
                return new Silent();
            }
        }
        return new Broken(Reasons.of(failure));
    }
}
