package io.loopwarden.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** A fleet folder of any number of units over MQTT, a few hundred to a connection. */
final class FleetFiles {

    private static final int UNITS_A_LINE = 250;

    private FleetFiles() {}

    static String id(int unit) {
        return "L-" + unit;
    }

    static String topic(int unit) {
        return "bench/" + unit / UNITS_A_LINE + "/CDU" + unit + "/telemetry";
    }

    static void write(Path root, Path folder, int units, String broker) throws IOException {
        Path example = root.resolve("sample-streams/scenario/fleet");
        for (String part : List.of("nameplates", "maps")) {
            Files.createDirectories(folder.resolve(part));
            try (Stream<Path> files = Files.list(example.resolve(part))) {
                for (Path file : files.toList()) {
                    Files.copy(file, folder.resolve(part).resolve(file.getFileName()));
                }
            }
        }
        StringBuilder text = new StringBuilder("site:\n  name: Bench\n  zone: \"+00:00\"\nconnections:\n");
        for (int line = 0; line * UNITS_A_LINE < units; line++) {
            text.append("  - name: line-" + line + "\n    protocol: mqtt-json\n    endpoint: " + broker + "\n");
            text.append("    settings: {client-id: bench-" + line + ", topics: \"bench/" + line + "/+/telemetry\"}\n");
        }
        text.append("units:\n");
        for (int unit = 0; unit < units; unit++) {
            text.append("  - {id: " + id(unit) + ", hall: Bench, nameplate: quillmere-1400, connection: line-"
                    + unit / UNITS_A_LINE + ", name-at-source: \"CDU" + unit + "\", map: quillmere-1400-json}\n");
        }
        Files.writeString(folder.resolve("fleet.yaml"), text);
    }
}
