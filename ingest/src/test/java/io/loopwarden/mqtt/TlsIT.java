package io.loopwarden.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.RejectLog;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Encrypted connections to a broker that asks for the client's certificate. */
class TlsIT {

    private static final Duration PATIENCE = Duration.ofSeconds(20);

    @TempDir
    static Path folder;

    private static TestCertificates certificates;
    private static TestBroker broker;

    @BeforeAll
    static void startBroker() throws Exception {
        certificates = new TestCertificates(folder.resolve("certificates"));
        broker = TestBroker.encrypted(folder, certificates, true);
        broker.start();
    }

    @AfterAll
    static void stopBroker() throws Exception {
        broker.stop();
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void bothSidesKnowEachOther(String version) throws Exception {
        try (MqttCollector collector = started(version, "broker", "client")) {
            await().atMost(PATIENCE).until(() -> collector.status().state() == State.CONNECTED);
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void brokerThatTheTrustCertificateDoesNotCoverIsRefused(String version) throws Exception {
        try (MqttCollector collector = started(version, "stranger", "client")) {
            await().atMost(PATIENCE).until(() -> !collector.status().detail().isEmpty());
            assertThat(collector.status().state()).isEqualTo(State.CONNECTING);
            assertThat(collector.status().detail())
                    .contains("mqtts://localhost")
                    .contains("CertPath");
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void clientThatTheBrokerDoesNotKnowIsRefused(String version) throws Exception {
        try (MqttCollector collector = started(version, "broker", "stranger")) {
            await().atMost(PATIENCE).until(() -> !collector.status().detail().isEmpty());
            assertThat(collector.status().state()).isEqualTo(State.CONNECTING);
        }
    }

    private static MqttCollector started(String version, String trusted, String client) throws Exception {
        List<String> settings = new ArrayList<>(List.of(
                "version",
                version,
                "client-id",
                "tls-" + version,
                "topics",
                "plant/+/telemetry",
                "reconnect-first",
                "PT0.1S",
                "reconnect-longest",
                "PT0.5S",
                "trust-certificate",
                certificates.certificatePem(trusted).toString(),
                "client-certificate",
                certificates.certificatePem(client).toString(),
                "client-key",
                certificates.keyPem(client).toString()));
        Connection connection =
                TestUnits.connection("mqtt-json", broker.endpoint(), List.of("CDU01"), settings.toArray(String[]::new));
        MqttCollector collector = new MqttCollector(
                connection,
                MqttSettings.from(connection),
                new PausableSink(),
                new RejectLog(Clock.systemUTC()),
                Clock.systemUTC());
        collector.start();
        return collector;
    }
}
