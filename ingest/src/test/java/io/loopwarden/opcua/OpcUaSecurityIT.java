package io.loopwarden.opcua;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.ConnectionStatus.State;
import java.io.IOException;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Security on the wire: both signed modes with trust on both sides, and every refusal said in words that help. */
class OpcUaSecurityIT {

    @TempDir
    private Path folder;

    private final PlantServer server = new PlantServer();
    private Bench bench;

    @BeforeEach
    void startServer() throws Exception {
        server.set("flow", 8.0);
        server.start();
    }

    @AfterEach
    void closeAll() {
        if (bench != null) {
            bench.close();
        }
        server.close();
    }

    @ParameterizedTest
    @ValueSource(strings = {"sign", "sign-and-encrypt"})
    void readsWhenBothSidesTrustEachOther(String mode) throws Exception {
        trustBothWays();
        begin("security-mode", mode);
        bench.awaitGood("flow", 8);
    }

    @Test
    void serverThatIsNotTrustedIsRefusedAndTheStatusNamesTheFileToMove() throws Exception {
        server.trust(SecurityFolder.open(folder).certificate());
        begin("security-mode", "sign-and-encrypt");
        String detail = bench.awaitDetail("is not trusted; to trust it, move ");
        assertThat(bench.collector.status().state()).isEqualTo(State.CONNECTING);
        assertThat(bench.sink.calls()).isZero();

        Path rejected;
        try (Stream<Path> files = Files.list(folder.resolve("rejected"))) {
            rejected = files.findFirst().orElseThrow();
        }
        assertThat(detail)
                .contains(rejected.toString())
                .contains(folder.resolve("trusted").toString());
        Files.move(rejected, folder.resolve("trusted").resolve(rejected.getFileName()));
        bench.awaitGood("flow", 8);
    }

    @Test
    void serverThatDoesNotTrustUsIsSaid() throws Exception {
        trustServer();
        begin("security-mode", "sign-and-encrypt");
        assertThat(bench.awaitDetail("Bad_")).contains("own/certificate.der");
        server.trust(SecurityFolder.open(folder).certificate());
        bench.awaitGood("flow", 8);
    }

    @Test
    void keyPairIsMadeOnceAndReadableByItsOwnerOnly() throws Exception {
        var first = SecurityFolder.open(folder);
        var second = SecurityFolder.open(folder);
        assertThat(second.certificate()).isEqualTo(first.certificate());
        assertThat(second.applicationUri()).isEqualTo(first.applicationUri());
        assertThat(Files.getPosixFilePermissions(folder.resolve("own/private-key.der")))
                .hasSize(2)
                .allMatch(permission -> permission.name().startsWith("OWNER_"));
    }

    @Test
    void userLogsInWithThePasswordFromAFileAndAWrongOneIsSaidWithoutShowingIt() throws Exception {
        trustBothWays();
        Path password = Files.writeString(folder.resolve("password"), "wrong-one\n");
        begin("security-mode", "sign", "user-name", PlantServer.USER, "password-file", password.toString());
        assertThat(bench.awaitDetail("Bad_")).doesNotContain("wrong-one");
        assertThat(bench.sink.calls()).isZero();
        Files.writeString(password, PlantServer.PASSWORD + "\n");
        bench.awaitGood("flow", 8);
    }

    @Test
    void collectorThatIsClosedWhileTheServerIsAwayNeverTriesAgain() throws Exception {
        int port = server.port();
        server.stop();
        begin("security-mode", "none");
        bench.awaitDetail("Connection refused");
        bench.close();
        AtomicInteger attempts = new AtomicInteger();
        try (ServerSocket socket = new ServerSocket(port)) {
            Thread listener = new Thread(() -> {
                while (!socket.isClosed()) {
                    try {
                        socket.accept().close();
                        attempts.incrementAndGet();
                    } catch (IOException e) {
                        return;
                    }
                }
            });
            listener.start();
            await().during(Duration.ofSeconds(3)).atMost(Duration.ofSeconds(10)).until(() -> attempts.get() == 0);
        }
    }

    @Test
    void connectionsShareAFolderWhenTheyOpenItTogether() {
        List<Bench> benches = Stream.generate(() -> new Bench(
                        server.address(),
                        settings("security-mode", "sign"),
                        Plants.unit("E-01", Map.of("tcs.flow", PlantServer.node("flow")))))
                .limit(3)
                .toList();
        try {
            benches.forEach(Bench::start);
            benches.forEach(one -> one.awaitDetail("is not trusted"));
            assertThat(folder.resolve("rejected")).isDirectoryContaining("glob:**.der");
            assertThat(folder.resolve("rejected").toFile().list()).hasSize(1);
        } finally {
            benches.forEach(Bench::close);
        }
    }

    private void trustBothWays() throws Exception {
        server.trust(SecurityFolder.open(folder).certificate());
        trustServer();
    }

    private void trustServer() throws Exception {
        SecurityFolder.open(folder);
        Files.write(
                folder.resolve("trusted/plant.der"), PlantServer.certificate().getEncoded());
    }

    private void begin(String... settings) {
        bench = new Bench(
                        server.address(),
                        settings(settings),
                        Plants.unit("E-01", Map.of("tcs.flow", PlantServer.node("flow"))))
                .start();
    }

    private Map<String, String> settings(String... namesAndValues) {
        Map<String, String> settings = Plants.quick(namesAndValues);
        settings.put("security-folder", folder.toString());
        return settings;
    }
}
