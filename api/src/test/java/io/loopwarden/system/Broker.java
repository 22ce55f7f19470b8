package io.loopwarden.system;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;

/** The demo's MQTT broker as a process, sessions kept in a folder. */
public final class Broker implements AutoCloseable {

    private final Launched process;
    private final String address;

    private Broker(Launched process, String address) {
        this.process = process;
        this.address = address;
    }

    public static Broker start(Path folder) {
        Launched process = Launched.java(
                "broker",
                folder,
                List.of(
                        "-Xmx256m",
                        "-cp",
                        Repository.virtualClassPath(),
                        "io.loopwarden.virtual.BrokerMain",
                        "--port",
                        "0",
                        "--data",
                        folder.resolve("sessions").toString()));
        String address = process.awaitLine("broker ready (mqtt:\\S+)", Duration.ofSeconds(60))
                .group(1);
        return new Broker(process, address);
    }

    /** {@code mqtt://127.0.0.1:port}. */
    String address() {
        return address;
    }

    @Override
    public void close() {
        process.close();
    }
}
