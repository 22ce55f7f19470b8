package io.loopwarden.mqtt;

import com.hivemq.embedded.EmbeddedHiveMQ;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;

/** A real broker in this JVM, on one port of the loopback address. */
final class TestBroker {

    private static final String GROUP = "test-broker";

    private final Path folder;
    private final int port;
    private final boolean tls;
    private EmbeddedHiveMQ broker;

    private TestBroker(Path folder, int port, boolean tls) {
        this.folder = folder;
        this.port = port;
        this.tls = tls;
    }

    /** Forgets sessions and messages when it stops. */
    static TestBroker in(Path folder) throws IOException {
        return open(folder, "in-memory");
    }

    /** Keeps sessions and messages over a restart. */
    static TestBroker remembering(Path folder) throws IOException {
        return open(folder, "file");
    }

    private static TestBroker open(Path folder, String persistence) throws IOException {
        TestBroker broker = new TestBroker(folder, freePort(), false);
        broker.configure(persistence, """
                <tcp-listener><port>%d</port><bind-address>127.0.0.1</bind-address></tcp-listener>
                """.formatted(broker.port));
        return broker;
    }

    /** @param asksClient whether clients must show a certificate that the authority signed */
    static TestBroker encrypted(Path folder, TestCertificates certificates, boolean asksClient) throws IOException {
        TestBroker broker = new TestBroker(folder, freePort(), true);
        String clientAuthentication =
                asksClient ? """
                        <truststore><path>%s</path><password>%s</password></truststore>
                        <client-authentication-mode>REQUIRED</client-authentication-mode>
                        """.formatted(certificates.trustStore(), TestCertificates.STORE_PASSWORD) : "";
        broker.configure("in-memory", """
                <tls-tcp-listener><port>%d</port><bind-address>127.0.0.1</bind-address>
                  <tls><keystore><path>%s</path><password>%s</password>
                    <private-key-password>%s</private-key-password></keystore>%s</tls>
                </tls-tcp-listener>
                """.formatted(
                        broker.port,
                        certificates.brokerStore(),
                        TestCertificates.STORE_PASSWORD,
                        TestCertificates.STORE_PASSWORD,
                        clientAuthentication));
        return broker;
    }

    private void configure(String persistence, String listener) throws IOException {
        for (String name : new String[] {"conf", "data", "extensions"}) {
            Files.createDirectories(folder.resolve(name));
        }
        Files.writeString(
                folder.resolve("conf/config.xml"), """
                <?xml version="1.0"?>
                <hivemq>
                  <listeners>%s</listeners>
                  <mqtt><queued-messages><max-queue-size>100000</max-queue-size></queued-messages></mqtt>
                  <persistence><mode>%s</mode></persistence>
                  <anonymous-usage-statistics><enabled>false</enabled></anonymous-usage-statistics>
                </hivemq>
                """.formatted(listener, persistence), StandardCharsets.UTF_8);
    }

    private static int freePort() throws IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        }
    }

    URI endpoint() {
        return URI.create(tls ? "mqtts://localhost:" + port : "mqtt://127.0.0.1:" + port);
    }

    int port() {
        return port;
    }

    /** Starts it; does nothing while it runs. */
    void start() throws Exception {
        if (broker != null) {
            return;
        }
        CompletableFuture<Void> up = new CompletableFuture<>();
        // The broker's threads inherit the group of the thread that starts it, and can be told from ours by it.
        new Thread(new ThreadGroup(GROUP), () -> {
                    try {
                        broker = EmbeddedHiveMQ.builder()
                                .withConfigurationFolder(folder.resolve("conf"))
                                .withDataFolder(folder.resolve("data"))
                                .withExtensionsFolder(folder.resolve("extensions"))
                                .withoutLoggingBootstrap()
                                .build();
                        broker.start().join();
                        up.complete(null);
                    } catch (RuntimeException e) {
                        up.completeExceptionally(e);
                    }
                })
                .start();
        up.get(60, TimeUnit.SECONDS);
    }

    void stop() throws Exception {
        if (broker != null) {
            broker.stop().get(30, TimeUnit.SECONDS);
            broker.close();
            broker = null;
        }
    }

    static boolean owns(Thread thread) {
        ThreadGroup group = thread.getThreadGroup();
        return group == null
                || group.getName().equals(GROUP)
                || group.getName().equals("system")
                || thread.getName().startsWith("ForkJoinPool.commonPool")
                || thread.getName().startsWith("globalEventExecutor");
    }
}
