package io.loopwarden.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.RejectLog;
import java.io.DataInputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A server that takes the connection and never says a word. */
class SilentServerIT {

    private static final Duration PATIENCE = Duration.ofSeconds(20);

    @TempDir
    Path folder;

    @ParameterizedTest
    @ValueSource(strings = {"3.1.1", "5"})
    void itGetsTheLoginAndTheConnectTimeOutEndsTheWait(String version) throws Exception {
        Path password = Files.writeString(folder.resolve("password"), "sesame\n");
        String clientId = "unanswered-" + version;
        try (ServerSocket server = new ServerSocket(0, 5, InetAddress.getLoopbackAddress())) {
            Connection connection = TestUnits.connection(
                    "mqtt-json",
                    URI.create("mqtt://127.0.0.1:" + server.getLocalPort()),
                    List.of("CDU01"),
                    "version",
                    version,
                    "client-id",
                    clientId,
                    "topics",
                    "plant/+/telemetry",
                    "connect-timeout",
                    "PT1S",
                    "user-name",
                    "watcher",
                    "password-file",
                    password.toString());
            MqttCollector collector = new MqttCollector(
                    connection,
                    MqttSettings.from(connection),
                    new PausableSink(),
                    new RejectLog(Clock.systemUTC()),
                    Clock.systemUTC());
            collector.start();
            try (Socket socket = server.accept()) {
                DataInputStream in = new DataInputStream(socket.getInputStream());
                in.readByte();
                String connect = new String(in.readNBytes(in.readUnsignedByte()), StandardCharsets.ISO_8859_1);
                assertThat(connect).contains("MQTT", clientId, "watcher").endsWith("sesame");
                await().atMost(PATIENCE)
                        .until(() -> !collector.status().detail().isEmpty());
                assertThat(collector.status().detail())
                        .contains("mqtt://127.0.0.1")
                        .doesNotContain("sesame");
                assertThat(collector.status().state()).isEqualTo(State.CONNECTING);
            }
            collector.close();
            await().atMost(PATIENCE)
                    .untilAsserted(() -> assertThat(Thread.getAllStackTraces().keySet())
                            .extracting(Thread::getName)
                            .noneMatch(name -> name.contains(clientId)));
        }
    }
}
