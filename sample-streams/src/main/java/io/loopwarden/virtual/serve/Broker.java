package io.loopwarden.virtual.serve;

import com.hivemq.embedded.EmbeddedHiveMQ;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;

/**
 * A real MQTT broker (3.1.1 and 5) on loopback that keeps sessions and queued messages in its data folder over restarts. Its makers'
 * usage statistics are off.
 */
public final class Broker implements AutoCloseable {

    private static final String CONFIGURATION = """
            <?xml version="1.0" encoding="UTF-8" ?>
            <hivemq>
                <listeners>
                    <tcp-listener>
                        <port>%d</port>
                        <bind-address>127.0.0.1</bind-address>
                    </tcp-listener>
                </listeners>
                <mqtt>
                    <queued-messages>
                        <max-queue-size>100000</max-queue-size>
                        <strategy>discard</strategy>
                    </queued-messages>
                </mqtt>
                <persistence>
                    <mode>file</mode>
                </persistence>
                <anonymous-usage-statistics>
                    <enabled>false</enabled>
                </anonymous-usage-statistics>
            </hivemq>
            """;

    private final EmbeddedHiveMQ server;
    private final int port;

    private Broker(EmbeddedHiveMQ server, int port) {
        this.server = server;
        this.port = port;
    }

    /** @param port 0 for any free one */
    public static Broker start(Path folder, int port) throws IOException {
        int chosen = port == 0 ? FreePort.find() : port;
        Path configuration = Files.createDirectories(folder.resolve("conf"));
        Path data = Files.createDirectories(folder.resolve("data"));
        Path extensions = Files.createDirectories(folder.resolve("extensions"));
        Files.writeString(configuration.resolve("config.xml"), CONFIGURATION.formatted(chosen));
        EmbeddedHiveMQ server = EmbeddedHiveMQ.builder()
                .withConfigurationFolder(configuration)
                .withDataFolder(data)
                .withExtensionsFolder(extensions)
                .withoutLoggingBootstrap()
                .build();
        try {
            server.start().get(60, TimeUnit.SECONDS);
        } catch (Exception e) {
            throw new IllegalStateException("the broker cannot start on port " + chosen + ": " + e.getMessage(), e);
        }
        return new Broker(server, chosen);
    }

    public String address() {
        return "mqtt://127.0.0.1:" + port;
    }

    @Override
    public void close() {
        server.stop().orTimeout(20, TimeUnit.SECONDS).join();
    }
}
