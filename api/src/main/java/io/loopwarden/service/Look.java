package io.loopwarden.service;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.FoundTag;
import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.mqtt.MqttLook;
import io.loopwarden.opcua.OpcUaLook;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;

/** One look at a source, reading only, before anything of it is in the fleet. */
public final class Look {

    private Look() {}

    /**
     * Which tags there are: a broker is listened to, an OPC UA server browsed; registers can only be read by a map, so a Modbus
     * connection needs its unit and map.
     *
     * @throws io.loopwarden.collector.ConfigurationException with every fault of the settings
     * @throws IOException if the source cannot be reached; the message says why
     */
    public static List<FoundTag> at(Connection connection, Duration during, Clock clock, Path data)
            throws IOException, InterruptedException {
        return switch (connection.protocol()) {
            case "mqtt-json", "mqtt-sparkplug" -> MqttLook.listen(connection, during, clock);
            case "opc-ua" ->
                OpcUaLook.browse(
                        Collectors.withDefault(connection, "security-folder", data.resolve("opc-ua-security")), clock);
            default -> byMap(connection, during, clock, data);
        };
    }

    private static List<FoundTag> byMap(Connection connection, Duration during, Clock clock, Path data)
            throws IOException, InterruptedException {
        Map<String, FoundTag> found = new ConcurrentHashMap<>();
        CompletableFuture<Void> first = new CompletableFuture<>();
        Collector collector = Collectors.of(
                connection,
                (unit, receivedAt, readings) -> {
                    for (RawReading reading : readings) {
                        found.put(
                                reading.source(),
                                new FoundTag(unit.value(), reading.source(), "", Optional.empty(), reading));
                    }
                    first.complete(null);
                    return CompletableFuture.completedFuture(null);
                },
                new RejectLog(clock),
                clock,
                data);
        try {
            collector.start();
            first.completeOnTimeout(null, during.toMillis(), TimeUnit.MILLISECONDS)
                    .join();
            if (found.isEmpty()) {
                throw new IOException("nothing came within " + during.toSeconds() + " s: "
                        + collector.status().detail());
            }
            return List.copyOf(found.values());
        } finally {
            collector.close();
        }
    }
}
