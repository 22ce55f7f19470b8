package io.loopwarden.opcua;

import io.loopwarden.collector.Backoff;
import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.collector.SettingsReader;
import io.loopwarden.fleet.PointName;
import io.loopwarden.pointmap.PointMap;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.eclipse.milo.opcua.stack.core.types.builtin.ExpandedNodeId;

/**
 * Settings of an OPC UA connection; names and defaults are in the module's README.
 *
 * @param securityFolder own key pair, trusted and rejected certificates; used unless the mode is {@code NONE}
 * @param report which samples the server sends when there is no deadband
 * @param deadbandOf deadbands of single points, instead of {@code deadband}
 * @param sessionTimeout how long the server keeps the session and its queues for us; after that we begin anew
 * @param maxInFlight deliveries that the sink has taken and not yet finished; more have to wait
 */
public record OpcUaSettings(
        SecurityMode securityMode,
        Path securityFolder,
        Optional<Login> login,
        Report report,
        Duration publishingInterval,
        Duration samplingInterval,
        int queueSize,
        Deadband deadband,
        Map<PointName, Deadband> deadbandOf,
        Duration requestTimeout,
        Duration sessionTimeout,
        Duration keepAlive,
        Backoff reconnect,
        Duration unknownNodeRetry,
        int maxInFlight) {

    /** Message security; the policy is Basic256Sha256 unless {@code NONE}. */
    enum SecurityMode {
        NONE,
        SIGN,
        SIGN_AND_ENCRYPT
    }

    enum Report {
        /** A sample of each scan of the server, also when the value stays: a steady value shows that it is alive. */
        EVERY_SCAN,
        /** Only a changed value or status. */
        CHANGES
    }

    private static final Duration HOUR = Duration.ofHours(1);
    private static final Duration TENTH = Duration.ofMillis(100);
    private static final String DEADBAND_OF = "deadband.";

    public OpcUaSettings {
        deadbandOf = Map.copyOf(deadbandOf);
    }

    /** @throws ConfigurationException with every fault in the settings and node ids */
    public static OpcUaSettings from(Connection connection) {
        SettingsReader reader = new SettingsReader(connection);
        checkEndpoint(connection, reader);
        checkNodeIds(connection, reader);
        Duration publishing =
                reader.duration("publishing-interval", Duration.ofSeconds(1), Duration.ofMillis(10), HOUR);
        Backoff reconnect = backoff(reader);
        SecurityMode mode = reader.choice("security-mode", SecurityMode.NONE);
        OpcUaSettings settings = new OpcUaSettings(
                mode,
                Path.of(reader.text("security-folder").orElse("opc-ua-security")),
                login(reader, mode),
                reader.choice("report", Report.EVERY_SCAN),
                publishing,
                reader.duration("sampling-interval", publishing, Duration.ZERO, HOUR),
                reader.integer("queue-size", 10, 1, 100_000),
                deadband(reader, "deadband"),
                deadbandsOfPoints(reader),
                reader.duration("request-timeout", Duration.ofSeconds(10), TENTH, Duration.ofMinutes(5)),
                reader.duration("session-timeout", Duration.ofSeconds(30), Duration.ofSeconds(1), HOUR),
                reader.duration("keep-alive", Duration.ofSeconds(5), TENTH, Duration.ofMinutes(5)),
                reconnect,
                reader.duration("unknown-node-retry", Duration.ofMinutes(5), TENTH, Duration.ofDays(1)),
                reader.integer("max-in-flight", 256, 1, 100_000));
        reader.finish();
        return settings;
    }

    Deadband deadbandOf(PointName point) {
        return deadbandOf.getOrDefault(point, deadband);
    }

    private static void checkEndpoint(Connection connection, SettingsReader reader) {
        if (!"opc.tcp".equals(connection.endpoint().getScheme())
                || connection.endpoint().getHost() == null) {
            reader.fault("endpoint '" + connection.endpoint() + "' must be opc.tcp://host:port/path");
        }
    }

    private static void checkNodeIds(Connection connection, SettingsReader reader) {
        for (ServedUnit served : connection.units()) {
            Set<String> seen = new HashSet<>();
            for (PointMap.Entry entry : served.map().entries()) {
                String source = entry.sourceFor(served.nameAtSource());
                String where = "unit " + served.unit() + ", point " + entry.point() + " of map '"
                        + served.map().name() + "': ";
                if (!isNodeId(source)) {
                    reader.fault(where + "'" + source + "' is not a node id such as ns=2;s=CDU03/TcsSupplyTemp");
                } else if (!seen.add(source)) {
                    reader.fault(where + "node id '" + source + "' is already used by another point");
                }
            }
        }
    }

    private static boolean isNodeId(String text) {
        try {
            return ExpandedNodeId.parse(text).isNotNull();
        } catch (RuntimeException e) {
            return false;
        }
    }

    private static Backoff backoff(SettingsReader reader) {
        Duration first = reader.duration("reconnect-first", Backoff.DEFAULT.first(), Duration.ofMillis(10), HOUR);
        Duration longest = reader.duration("reconnect-longest", Backoff.DEFAULT.longest(), Duration.ofMillis(10), HOUR);
        if (longest.compareTo(first) < 0) {
            reader.fault("reconnect-longest " + longest + " is shorter than reconnect-first " + first);
            return Backoff.DEFAULT;
        }
        return new Backoff(first, longest);
    }

    private static Optional<Login> login(SettingsReader reader, SecurityMode mode) {
        Optional<String> name = reader.text("user-name");
        Optional<String> variable = reader.text("password-variable");
        Optional<Path> file = reader.text("password-file").map(Path::of);
        if (name.isEmpty()) {
            if (variable.isPresent() || file.isPresent()) {
                reader.fault("a password is named, but no user-name");
            }
            return Optional.empty();
        }
        if (mode == SecurityMode.NONE) {
            reader.fault("user-name needs security-mode sign or sign-and-encrypt: with none the password could be read"
                    + " on the way");
        }
        if (variable.isPresent() == file.isPresent()) {
            reader.fault("user-name '" + name.get() + "' needs either password-variable or password-file");
            return Optional.empty();
        }
        return Optional.of(new Login(name.get(), variable, file));
    }

    private static Map<PointName, Deadband> deadbandsOfPoints(SettingsReader reader) {
        Map<PointName, Deadband> byPoint = new HashMap<>();
        for (String name : reader.namesFrom(DEADBAND_OF)) {
            try {
                byPoint.put(PointName.of(name.substring(DEADBAND_OF.length())), deadband(reader, name));
            } catch (IllegalArgumentException e) {
                reader.text(name);
                reader.fault("setting '" + name + "': " + e.getMessage());
            }
        }
        return byPoint;
    }

    private static Deadband deadband(SettingsReader reader, String name) {
        return reader.text(name)
                .map(value -> {
                    try {
                        return Deadband.parse(value);
                    } catch (IllegalArgumentException e) {
                        reader.fault(
                                name, value, "must be none, absolute <number above 0>, or percent <above 0, to 100>");
                        return Deadband.NONE;
                    }
                })
                .orElse(Deadband.NONE);
    }
}
