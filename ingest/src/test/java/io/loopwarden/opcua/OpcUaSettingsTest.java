package io.loopwarden.opcua;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.fleet.PointName;
import io.loopwarden.opcua.OpcUaSettings.Report;
import io.loopwarden.opcua.OpcUaSettings.SecurityMode;
import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OpcUaSettingsTest {

    private static final URI ADDRESS = URI.create("opc.tcp://127.0.0.1:4840/plant");

    @Test
    void defaultsAreThoseOfTheReadme() throws IOException {
        OpcUaSettings settings = OpcUaSettings.from(connection(Map.of()));
        assertThat(settings.securityMode()).isEqualTo(SecurityMode.NONE);
        assertThat(settings.report()).isEqualTo(Report.EVERY_SCAN);
        assertThat(settings.login()).isEmpty();
        assertThat(settings.deadband()).isEqualTo(Deadband.NONE);
        assertThat(Files.readString(Path.of("README.md")))
                .contains("| `publishing-interval` / `sampling-interval` | `" + settings.publishingInterval() + "` /")
                .contains("| `queue-size` | `" + settings.queueSize() + "` |")
                .contains("| `security-folder` | `" + settings.securityFolder() + "` |")
                .contains("| `request-timeout` / `keep-alive` | `" + settings.requestTimeout() + "` / `"
                        + settings.keepAlive() + "` |")
                .contains("| `session-timeout` | `" + settings.sessionTimeout() + "` |")
                .contains("| `reconnect-first` / `reconnect-longest` | `"
                        + settings.reconnect().first() + "` / `"
                        + settings.reconnect().longest() + "` |")
                .contains("| `unknown-node-retry` | `" + settings.unknownNodeRetry() + "` |")
                .contains("| `max-in-flight` | `" + settings.maxInFlight() + "` |");
    }

    @Test
    void samplingFollowsPublishingUnlessSet() {
        assertThat(OpcUaSettings.from(connection(Map.of("publishing-interval", "PT2S")))
                        .samplingInterval())
                .isEqualTo(Duration.ofSeconds(2));
        assertThat(OpcUaSettings.from(connection(Map.of("sampling-interval", "PT0.25S")))
                        .samplingInterval())
                .isEqualTo(Duration.ofMillis(250));
    }

    @Test
    void deadbandOfAPointGoesBeforeTheOneOfTheConnection() {
        OpcUaSettings settings =
                OpcUaSettings.from(connection(Map.of("deadband", "percent 0.5", "deadband.tcs.flow", "absolute 2.5")));
        assertThat(settings.deadbandOf(PointName.of("tcs.flow"))).isEqualTo(new Deadband(Deadband.Kind.ABSOLUTE, 2.5));
        assertThat(settings.deadbandOf(PointName.of("fws.flow"))).isEqualTo(new Deadband(Deadband.Kind.PERCENT, 0.5));
    }

    @Test
    void everyFaultIsToldAtOnce() {
        Map<String, String> settings = new LinkedHashMap<>();
        settings.put("publishing-interval", "1s");
        settings.put("queue-size", "0");
        settings.put("security-mode", "basic");
        settings.put("deadband", "percent 101");
        settings.put("deadband.tcs.flw", "absolute 1");
        settings.put("deadband.fws.flow", "absolute -1");
        settings.put("user-name", "reader");
        settings.put("reconnect-first", "PT10S");
        settings.put("reconnect-longest", "PT1S");
        settings.put("publish-interval", "PT1S");
        Connection connection = Plants.connection(
                URI.create("http://127.0.0.1:4840"),
                settings,
                Plants.unit("E-01", Map.of("tcs.flow", "T_FLOW")),
                Plants.unit("E-02", Map.of("tcs.flow", "ns=2;s=F", "fws.flow", "ns=2;s=F")));
        ConfigurationException thrown =
                catchThrowableOfType(ConfigurationException.class, () -> OpcUaSettings.from(connection));
        assertThat(thrown.faults())
                .hasSize(13)
                .allSatisfy(fault -> assertThat(fault).startsWith("connection 'plant line': "))
                .anySatisfy(fault -> assertThat(fault).contains("http://127.0.0.1:4840", "opc.tcp://"))
                .anySatisfy(fault -> assertThat(fault).contains("E-01", "tcs.flow", "'T_FLOW' is not a node id"))
                .anySatisfy(fault -> assertThat(fault).contains("E-02", "'ns=2;s=F' is already used"))
                .anySatisfy(fault -> assertThat(fault).contains("'publishing-interval' is '1s'"))
                .anySatisfy(fault -> assertThat(fault).contains("'queue-size' is '0'"))
                .anySatisfy(fault -> assertThat(fault).contains("none, sign, sign-and-encrypt"))
                .anySatisfy(fault -> assertThat(fault).contains("'deadband' is 'percent 101'"))
                .anySatisfy(fault -> assertThat(fault).contains("deadband.tcs.flw", "did you mean 'tcs.flow'"))
                .anySatisfy(fault -> assertThat(fault).contains("'deadband.fws.flow' is 'absolute -1'"))
                .anySatisfy(fault -> assertThat(fault).contains("user-name needs security-mode"))
                .anySatisfy(fault -> assertThat(fault).contains("password-variable or password-file"))
                .anySatisfy(fault -> assertThat(fault).contains("reconnect-longest PT1S is shorter"))
                .anySatisfy(fault -> assertThat(fault).contains("unknown setting 'publish-interval'"));
    }

    @Test
    void namespaceMayBeNamedByItsUri() {
        Connection connection = Plants.connection(
                ADDRESS, Map.of(), Plants.unit("E-01", Map.of("tcs.flow", "nsu=urn:maker:plant;s={unit}/Flow")));
        assertThat(Tag.of(connection))
                .singleElement()
                .satisfies(tag -> assertThat(tag.source()).isEqualTo("nsu=urn:maker:plant;s=E-01/Flow"));
        assertThat(OpcUaSettings.from(connection).queueSize()).isPositive();
    }

    @Test
    void passwordComesFromAFileAtEachLogInAndIsInNoText(@TempDir Path folder) throws IOException {
        Path file = Files.writeString(folder.resolve("password"), "s3cret with space \n");
        OpcUaSettings settings = OpcUaSettings.from(
                connection(Map.of("security-mode", "sign", "user-name", "reader", "password-file", file.toString())));
        Login login = settings.login().orElseThrow();
        assertThat(new String(login.password(), StandardCharsets.UTF_8)).isEqualTo("s3cret with space ");
        assertThat(settings.toString()).contains("reader").doesNotContain("s3cret");
        Files.writeString(file, "another");
        assertThat(new String(login.password(), StandardCharsets.UTF_8)).isEqualTo("another");
    }

    @Test
    void missingPasswordVariableIsNamed() {
        Login login = new Login("reader", Optional.of("LOOPWARDEN_TEST_NOT_SET"), Optional.empty());
        assertThat(catchThrowableOfType(IOException.class, login::password))
                .hasMessageContaining("LOOPWARDEN_TEST_NOT_SET")
                .hasMessageContaining("reader");
    }

    private static Connection connection(Map<String, String> settings) {
        return Plants.connection(ADDRESS, settings, Plants.unit("E-01", Map.of("tcs.flow", "ns=2;s=Flow")));
    }
}
