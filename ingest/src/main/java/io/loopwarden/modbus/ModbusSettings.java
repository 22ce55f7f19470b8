package io.loopwarden.modbus;

import io.loopwarden.collector.Backoff;
import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.collector.SettingsReader;
import io.loopwarden.pointmap.PointMap;
import java.time.Duration;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;

/**
 * Settings of one Modbus TCP connection; {@code ingest/README.md} lists names and defaults.
 *
 * @param pollInterval from the start of one round to the start of the next
 * @param timeout for one request
 * @param retries requests sent again after a time-out, before the device counts as silent
 * @param maxRegisters most registers in one request (the protocol allows 125)
 * @param maxBits most coils or discrete inputs in one request (the protocol allows 2000)
 * @param bridgeRegisters registers nobody asked for that may be read along, so that two blocks become one
 * @param bridgeBits the same for coils and discrete inputs
 * @param maxInFlight requests on the line at once, over all units; 1 for a gateway that cannot queue
 * @param refusedRetry how often a register that the device refuses is asked for again
 * @param reconnect waits before the next attempt: of the connection, and of a silent device
 */
public record ModbusSettings(
        Duration pollInterval,
        Duration timeout,
        Duration connectTimeout,
        int retries,
        int maxRegisters,
        int maxBits,
        int bridgeRegisters,
        int bridgeBits,
        int maxInFlight,
        Duration refusedRetry,
        Backoff reconnect) {

    static final int DEFAULT_PORT = 502;
    private static final String PROTOCOL = "modbus-tcp";

    public ModbusSettings {
        Objects.requireNonNull(pollInterval, "pollInterval");
        Objects.requireNonNull(timeout, "timeout");
        Objects.requireNonNull(connectTimeout, "connectTimeout");
        Objects.requireNonNull(refusedRetry, "refusedRetry");
        Objects.requireNonNull(reconnect, "reconnect");
    }

    /** @throws ConfigurationException with every fault of the connection */
    public static ModbusSettings from(Connection connection) {
        SettingsReader reader = new SettingsReader(connection);
        Duration first = reader.duration(
                "reconnect-first", Backoff.DEFAULT.first(), Duration.ofMillis(10), Duration.ofMinutes(10));
        Duration longest = reader.duration(
                "reconnect-longest", Backoff.DEFAULT.longest(), Duration.ofMillis(10), Duration.ofHours(1));
        if (longest.compareTo(first) < 0) {
            reader.fault("reconnect-longest", longest.toString(), "must not be shorter than reconnect-first, " + first);
            longest = first;
        }
        ModbusSettings settings = new ModbusSettings(
                reader.duration("poll-interval", Duration.ofSeconds(1), Duration.ofMillis(20), Duration.ofHours(1)),
                reader.duration("timeout", Duration.ofSeconds(1), Duration.ofMillis(10), Duration.ofMinutes(1)),
                reader.duration("connect-timeout", Duration.ofSeconds(5), Duration.ofMillis(10), Duration.ofMinutes(1)),
                reader.integer("retries", 1, 0, 5),
                reader.integer("max-registers", 125, 4, 125),
                reader.integer("max-bits", 2000, 1, 2000),
                reader.integer("bridge-registers", 8, 0, 120),
                reader.integer("bridge-bits", 64, 0, 1900),
                reader.integer("max-in-flight", 16, 1, 256),
                reader.duration("refused-retry", Duration.ofMinutes(1), Duration.ofMillis(20), Duration.ofDays(1)),
                new Backoff(first, longest));
        checkEndpoint(connection, reader);
        checkUnits(connection, reader);
        reader.finish();
        return settings;
    }

    /** The number that addresses a unit on the line, 0 to 255; -1 if the text is none. */
    static int unitNumber(String nameAtSource) {
        boolean digits = !nameAtSource.isEmpty()
                && nameAtSource.length() <= 3
                && nameAtSource.chars().allMatch(c -> c >= '0' && c <= '9');
        int number = digits ? Integer.parseInt(nameAtSource) : -1;
        return number <= 255 ? number : -1;
    }

    private static void checkEndpoint(Connection connection, SettingsReader reader) {
        if (!connection.protocol().equals(PROTOCOL)) {
            reader.fault("protocol '" + connection.protocol() + "' is not " + PROTOCOL);
        }
        String scheme = connection.endpoint().getScheme();
        boolean known = "modbus".equals(scheme) || "tcp".equals(scheme);
        if (!known || connection.endpoint().getHost() == null) {
            reader.fault("endpoint '" + connection.endpoint() + "' is not modbus://host:port");
        }
    }

    private static void checkUnits(Connection connection, SettingsReader reader) {
        Map<Integer, ServedUnit> byNumber = new HashMap<>();
        for (ServedUnit served : connection.units()) {
            int number = unitNumber(served.nameAtSource());
            if (number < 0) {
                reader.fault("unit " + served.unit() + " has name at source '" + served.nameAtSource()
                        + "', which is no Modbus unit number, 0 to 255");
            } else {
                ServedUnit before = byNumber.putIfAbsent(number, served);
                if (before != null) {
                    reader.fault(
                            "units " + before.unit() + " and " + served.unit() + " are both Modbus unit " + number);
                }
            }
            if (served.map().entries().stream().map(PointMap.Entry::register).anyMatch(Objects::isNull)) {
                reader.fault(
                        "map '" + served.map().name() + "' of unit " + served.unit() + " has points without register");
            }
        }
    }
}
