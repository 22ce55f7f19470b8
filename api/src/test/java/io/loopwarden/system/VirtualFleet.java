package io.loopwarden.system;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpRequest;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;

/** The demo's 24 virtual units as a process. */
public final class VirtualFleet implements AutoCloseable {

    private static final ObjectMapper JSON = new ObjectMapper();

    private final Launched process;
    private final Path folder;
    private final int controlPort;

    private VirtualFleet(Launched process, Path folder, int controlPort) {
        this.process = process;
        this.folder = folder;
        this.controlPort = controlPort;
    }

    public static VirtualFleet start(Path folder, Broker broker) {
        return start(Repository.root().resolve("sample-streams/scenario"), folder, broker);
    }

    static VirtualFleet start(Path scenario, Path folder, Broker broker) {
        int controlPort = Service.freePort();
        Launched process = Launched.java(
                "virtual-fleet",
                folder,
                List.of(
                        "-Xmx512m",
                        "-cp",
                        Repository.virtualClassPath(),
                        "io.loopwarden.virtual.VirtualFleetMain",
                        "--scenario",
                        scenario.toString(),
                        "--out",
                        folder.toString(),
                        "--broker",
                        broker.address(),
                        "--control-port",
                        Integer.toString(controlPort)));
        process.awaitLine("virtual fleet ready", Duration.ofSeconds(90));
        return new VirtualFleet(process, folder, controlPort);
    }

    /** The fleet folder that the service reads. */
    public Path fleetFolder() {
        return folder.resolve("fleet");
    }

    public JsonNode control(String path, String body) throws IOException {
        return JSON.readTree(Service.send(HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + controlPort + path))
                        .header("Content-Type", "application/json")
                        .POST(HttpRequest.BodyPublishers.ofString(body))
                        .build())
                .body());
    }

    @Override
    public void close() {
        process.close();
    }
}
