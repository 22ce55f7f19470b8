package io.loopwarden.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MqttSettingsTest {

    private static final URI OPEN = URI.create("mqtt://broker.example");

    @TempDir
    Path folder;

    @Test
    void defaultsAreTheDocumentedOnes() {
        MqttSettings settings = MqttSettings.from(json("topics", "plant/+/+/telemetry, site/#"));
        assertThat(settings.version()).isEqualTo(MqttSettings.Version.V5);
        assertThat(settings.address()).isEqualTo("mqtt://broker.example:1883");
        assertThat(settings.topics()).containsExactly("plant/+/+/telemetry", "site/#");
        assertThat(settings.keepAlive()).isEqualTo(Duration.ofSeconds(30));
        assertThat(settings.sessionExpiry()).isEqualTo(Duration.ofDays(7));
        assertThat(settings.maxPayloadBytes()).isEqualTo(262_144);
        assertThat(settings.maxInFlight()).isEqualTo(1000);
        assertThat(settings.tls()).isEmpty();
        assertThat(settings.rebirthInterval()).isEmpty();
        assertThat(MqttSettings.from(TestUnits.connection("mqtt-sparkplug", OPEN, List.of("GW1")))
                        .topics())
                .containsExactly("spBv1.0/#");
    }

    @Test
    void everyFaultIsToldAtOnce() {
        Connection connection = TestUnits.connection(
                "mqtt-json",
                URI.create("http://broker.example"),
                List.of("CDU01", "CDU01"),
                "client-id",
                " ",
                "version",
                "4",
                "topics",
                "plant/#/x",
                "keep-alive",
                "30",
                "max-in-flight",
                "0",
                "password-file",
                folder.resolve("missing").toString(),
                "password-variable",
                "LOOPWARDEN_NOT_SET",
                "client-key",
                folder.toString(),
                "password",
                "in-the-clear");
        List<String> faults = catchThrowableOfType(ConfigurationException.class, () -> MqttSettings.from(connection))
                .faults();
        Stream.of(
                        "scheme 'http'",
                        "'CDU01' stands for more than one unit",
                        "'client-id' is missing",
                        "'version' is '4'",
                        "'plant/#/x'",
                        "'keep-alive'",
                        "'max-in-flight'",
                        "'password-file'",
                        "exclude each other",
                        "LOOPWARDEN_NOT_SET",
                        "without setting 'user-name'",
                        "'client-certificate' and 'client-key' only go together",
                        "needs an endpoint that begins with mqtts://",
                        "unknown setting 'password'")
                .forEach(part ->
                        assertThat(faults).anySatisfy(fault -> assertThat(fault).contains(part)));
        assertThat(faults)
                .allSatisfy(fault -> assertThat(fault).contains("east-broker").doesNotContain("in-the-clear"));
    }

    @Test
    void passwordIsReadAtEachConnectAndNeverShown() throws Exception {
        Path file = Files.writeString(folder.resolve("password"), "sesame\n");
        MqttSettings settings =
                MqttSettings.from(json("topics", "#", "user-name", "lw", "password-file", file.toString()));
        assertThat(settings.password().read()).contains("sesame");
        assertThat(settings.toString()).doesNotContain("sesame");
        Files.writeString(file, "changed");
        assertThat(settings.password().read()).contains("changed");
    }

    @Test
    void unusablePemFileIsNamed() throws Exception {
        Path pem = Files.writeString(folder.resolve("ca.pem"), "no certificate");
        Connection connection = TestUnits.connection(
                "mqtt-json",
                URI.create("mqtts://broker.example"),
                List.of("CDU01"),
                "topics",
                "#",
                "trust-certificate",
                pem.toString());
        assertThat(catchThrowableOfType(ConfigurationException.class, () -> MqttSettings.from(connection))
                        .faults())
                .singleElement()
                .asString()
                .contains(pem.toString());
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource({
        "a/b/c,true",
        "#,true",
        "a/#,true",
        "+/b/+,true",
        "/,true",
        "a//b,true",
        "a/#/b,false",
        "a#,false",
        "a+/b,false",
        "#/a,false",
    })
    void topicFiltersFollowTheStandard(String filter, boolean usable) {
        assertThat(TopicFilter.fault(filter).isEmpty()).isEqualTo(usable);
    }

    private static Connection json(String... settings) {
        return TestUnits.connection("mqtt-json", OPEN, List.of("CDU01"), settings);
    }
}
