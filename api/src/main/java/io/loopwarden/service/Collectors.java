package io.loopwarden.service;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.modbus.ModbusCollector;
import io.loopwarden.modbus.ModbusSettings;
import io.loopwarden.mqtt.MqttCollector;
import io.loopwarden.mqtt.MqttSettings;
import io.loopwarden.opcua.OpcUaCollector;
import io.loopwarden.opcua.OpcUaSettings;
import java.nio.file.Path;
import java.time.Clock;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** The list of protocols: one line each. */
final class Collectors {

    private Collectors() {}

    /** @throws ConfigurationException with every fault of the connection's settings */
    static Collector of(Connection connection, ReadingSink sink, RejectLog rejects, Clock clock, Path data) {
        return switch (connection.protocol()) {
            case "opc-ua" -> {
                Connection secured = withDefault(connection, "security-folder", data.resolve("opc-ua-security"));
                yield new OpcUaCollector(secured, OpcUaSettings.from(secured), sink, rejects, clock);
            }
            case "mqtt-json", "mqtt-sparkplug" ->
                new MqttCollector(connection, MqttSettings.from(connection), sink, rejects, clock);
            case "modbus-tcp" -> new ModbusCollector(connection, ModbusSettings.from(connection), sink, rejects, clock);
            default ->
                throw new ConfigurationException(List.of("connection " + connection.name() + ": protocol '"
                        + connection.protocol() + "' is not one of opc-ua, mqtt-json, mqtt-sparkplug, modbus-tcp"));
        };
    }

    static Connection withDefault(Connection connection, String key, Path value) {
        Map<String, String> settings = new HashMap<>(connection.settings());
        settings.putIfAbsent(key, value.toString());
        return new Connection(
                connection.name(), connection.protocol(), connection.endpoint(), settings, connection.units());
    }
}
