package io.loopwarden.service;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.mqtt.MqttCollector;
import io.loopwarden.mqtt.MqttSettings;
import io.loopwarden.opcua.OpcUaCollector;
import io.loopwarden.opcua.OpcUaSettings;
import java.time.Clock;
import java.util.List;

/** The list of protocols: one line each. */
final class Collectors {

    private Collectors() {}

    /** @throws ConfigurationException with every fault of the connection's settings */
    static Collector of(Connection connection, ReadingSink sink, RejectLog rejects, Clock clock) {
        return switch (connection.protocol()) {
            case "opc-ua" -> new OpcUaCollector(connection, OpcUaSettings.from(connection), sink, rejects, clock);
            case "mqtt-json", "mqtt-sparkplug" ->
                new MqttCollector(connection, MqttSettings.from(connection), sink, rejects, clock);
            default ->
                throw new ConfigurationException(List.of("connection " + connection.name() + ": protocol '"
                        + connection.protocol() + "' is not one of opc-ua, mqtt-json, mqtt-sparkplug, modbus-tcp"));
        };
    }
}
