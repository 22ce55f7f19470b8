package io.loopwarden.mqtt;

import io.loopwarden.collector.Backoff;
import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.SettingsReader;
import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.time.Duration;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * How to talk to one broker; the README of this module has the table.
 *
 * @param tls empty for an open connection
 * @param sessionExpiry how long the broker shall keep messages while we are away; MQTT 5 only
 * @param maxPayloadBytes a longer message is counted and not parsed
 * @param maxInFlight messages taken and not yet acknowledged
 * @param ackTimeout a message that is not on disk after it makes the connection start anew
 * @param redeliveryDelay from a message that could not be kept to the new start of the connection
 * @param rebirthInterval empty, the default, means that nothing is ever published
 */
public record MqttSettings(
        Payload payload,
        Version version,
        String host,
        int port,
        Optional<TlsFiles> tls,
        String clientId,
        List<String> topics,
        Duration keepAlive,
        Duration connectTimeout,
        Duration sessionExpiry,
        int maxPayloadBytes,
        int maxInFlight,
        Duration ackTimeout,
        Duration redeliveryDelay,
        Backoff backoff,
        Optional<String> userName,
        Password password,
        Optional<Duration> rebirthInterval) {

    /** What is in the messages. */
    public enum Payload {
        JSON,
        SPARKPLUG
    }

    /** Of the protocol. */
    public enum Version {
        V3_1_1,
        V5
    }

    private static final Duration DAY = Duration.ofDays(1);

    public MqttSettings {
        topics = List.copyOf(topics);
    }

    /** @throws ConfigurationException with every fault of the connection's settings */
    public static MqttSettings from(Connection connection) {
        SettingsReader reader = new SettingsReader(connection);
        MqttSettings settings = read(connection, reader);
        reader.finish();
        return settings;
    }

    String address() {
        return (tls.isPresent() ? "mqtts" : "mqtt") + "://" + host + ":" + port;
    }

    private static MqttSettings read(Connection connection, SettingsReader reader) {
        URI endpoint = connection.endpoint();
        boolean secure = isSecure(endpoint, reader);
        if (endpoint.getHost() == null) {
            reader.fault("endpoint '" + endpoint + "' names no host, for example mqtts://broker.example:8883");
        }
        checkUnits(connection, reader);
        Payload payload = connection.protocol().equals("mqtt-sparkplug") ? Payload.SPARKPLUG : Payload.JSON;
        return new MqttSettings(
                payload,
                version(reader),
                String.valueOf(endpoint.getHost()),
                endpoint.getPort() > 0 ? endpoint.getPort() : secure ? 8883 : 1883,
                tls(secure, reader),
                clientId(reader),
                topics(payload, reader),
                reader.duration("keep-alive", Duration.ofSeconds(30), Duration.ofSeconds(1), Duration.ofHours(18)),
                reader.duration("connect-timeout", Duration.ofSeconds(10), Duration.ofSeconds(1), DAY),
                reader.duration("session-expiry", Duration.ofDays(7), Duration.ofSeconds(1), Duration.ofDays(49_000)),
                reader.integer("max-payload-bytes", 256 * 1024, 64, 16 * 1024 * 1024),
                reader.integer("max-in-flight", 1000, 1, 65_535),
                reader.duration("ack-timeout", Duration.ofSeconds(60), Duration.ofMillis(100), DAY),
                reader.duration("redelivery-delay", Duration.ofSeconds(5), Duration.ofMillis(10), DAY),
                backoff(reader),
                userName(reader),
                password(reader),
                rebirth(payload, reader));
    }

    private static boolean isSecure(URI endpoint, SettingsReader reader) {
        String scheme = String.valueOf(endpoint.getScheme());
        switch (scheme) {
            case "mqtts", "ssl" -> {
                return true;
            }
            case "mqtt", "tcp" -> {
                return false;
            }
            default -> {
                reader.fault("endpoint '" + endpoint + "' has scheme '" + scheme + "', not mqtt or mqtts");
                return false;
            }
        }
    }

    private static void checkUnits(Connection connection, SettingsReader reader) {
        Set<String> names = new HashSet<>();
        for (Connection.ServedUnit unit : connection.units()) {
            if (!names.add(unit.nameAtSource())) {
                reader.fault("name at source '" + unit.nameAtSource() + "' stands for more than one unit");
            }
        }
    }

    private static Version version(SettingsReader reader) {
        String text = reader.text("version").orElse("5");
        if (!text.equals("5") && !text.equals("3.1.1")) {
            reader.fault("setting 'version' is '" + text + "', not 5 or 3.1.1");
        }
        return text.equals("3.1.1") ? Version.V3_1_1 : Version.V5;
    }

    private static String clientId(SettingsReader reader) {
        String id = required("client-id", "the broker keeps what was not acknowledged under it", reader);
        if (id.getBytes(StandardCharsets.UTF_8).length > 65_535) {
            reader.fault("setting 'client-id' is longer than 65535 bytes");
        }
        return id;
    }

    private static List<String> topics(Payload payload, SettingsReader reader) {
        String text = payload == Payload.SPARKPLUG
                ? reader.text("topics").orElse("spBv1.0/#")
                : required("topics", "which to subscribe to, for example plant/+/+/telemetry", reader);
        List<String> topics = Arrays.stream(text.split(","))
                .map(String::strip)
                .filter(t -> !t.isEmpty())
                .toList();
        for (String topic : topics) {
            TopicFilter.fault(topic)
                    .ifPresent(fault -> reader.fault("setting 'topics': filter '" + topic + "' " + fault));
        }
        return topics;
    }

    private static Optional<TlsFiles> tls(boolean secure, SettingsReader reader) {
        TlsFiles files = new TlsFiles(
                readableFile("trust-certificate", reader),
                readableFile("client-certificate", reader),
                readableFile("client-key", reader));
        boolean half = reader.text("client-certificate").isPresent()
                != reader.text("client-key").isPresent();
        if (half) {
            reader.fault("settings 'client-certificate' and 'client-key' only go together");
        }
        if (!secure) {
            for (String key : List.of("trust-certificate", "client-certificate", "client-key")) {
                if (reader.text(key).isPresent()) {
                    reader.fault("setting '" + key + "' needs an endpoint that begins with mqtts://");
                }
            }
            return Optional.empty();
        }
        if (!half) {
            try {
                PemTls.socketFactory(files);
            } catch (IOException | GeneralSecurityException e) {
                reader.fault("the PEM files cannot be used: " + e.getMessage());
            }
        }
        return Optional.of(files);
    }

    private static Backoff backoff(SettingsReader reader) {
        Duration first =
                reader.duration("reconnect-first", Backoff.DEFAULT.first(), Duration.ofMillis(10), Duration.ofHours(1));
        Duration longest = reader.duration("reconnect-longest", Backoff.DEFAULT.longest(), Duration.ofMillis(10), DAY);
        if (longest.compareTo(first) < 0) {
            reader.fault("setting 'reconnect-longest' " + longest + " is shorter than 'reconnect-first' " + first);
            return Backoff.DEFAULT;
        }
        return new Backoff(first, longest);
    }

    private static Optional<String> userName(SettingsReader reader) {
        Optional<String> userName = reader.text("user-name");
        boolean hasPassword = reader.text("password-variable").isPresent()
                || reader.text("password-file").isPresent();
        if (hasPassword && userName.isEmpty()) {
            reader.fault("a password without setting 'user-name'");
        }
        return userName;
    }

    private static Password password(SettingsReader reader) {
        Optional<String> variable = reader.text("password-variable");
        Password password = new Password(variable, readableFile("password-file", reader));
        if (variable.isPresent() && reader.text("password-file").isPresent()) {
            reader.fault("settings 'password-variable' and 'password-file' exclude each other");
        }
        if (variable.isPresent() && System.getenv(variable.get()) == null) {
            reader.fault("setting 'password-variable': environment variable '" + variable.get() + "' is not set");
        }
        return password;
    }

    private static Optional<Duration> rebirth(Payload payload, SettingsReader reader) {
        if (payload != Payload.SPARKPLUG) {
            return Optional.empty();
        }
        Duration interval =
                reader.duration("rebirth-interval", Duration.ofSeconds(60), Duration.ofSeconds(1), Duration.ofDays(1));
        return reader.flag("allow-rebirth-request", false) ? Optional.of(interval) : Optional.empty();
    }

    private static String required(String name, String why, SettingsReader reader) {
        return reader.text(name).orElseGet(() -> {
            reader.fault("setting '" + name + "' is missing: " + why);
            return "";
        });
    }

    private static Optional<Path> readableFile(String name, SettingsReader reader) {
        return reader.text(name).flatMap(text -> {
            try {
                Path path = Path.of(text);
                if (Files.isRegularFile(path) && Files.isReadable(path)) {
                    return Optional.of(path);
                }
                reader.fault(name, text, "not a readable file");
            } catch (InvalidPathException e) {
                reader.fault(name, text, "not a path");
            }
            return Optional.empty();
        });
    }
}
