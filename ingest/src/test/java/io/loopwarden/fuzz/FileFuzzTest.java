package io.loopwarden.fuzz;

import io.loopwarden.alarmfile.AlarmsFile;
import io.loopwarden.fleetfile.FleetFolder;
import io.loopwarden.fleetfile.NameplateFile;
import io.loopwarden.pointmap.PointMapFile;
import io.loopwarden.replay.CsvSource;
import io.loopwarden.replay.ReplayException;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Broken files; {@code deploy/fuzz} runs many more. */
class FileFuzzTest {

    private static final int MOST_BYTES = 1 << 20;
    private static final Path SCENARIO = Path.of("../sample-streams/scenario/fleet");
    /** Small, since it is read again with each input. */
    private static final Path BENCH = Path.of("../api/src/test/resources/system/fleet");

    private static final Path REJECTED = Path.of("src/test/resources/rejected");

    @TempDir
    Path folder;

    @Test
    void pointMap() {
        Fuzz.run(
                "point-map",
                corpus(SCENARIO.resolve("maps"), REJECTED.resolve("maps")),
                MOST_BYTES,
                input -> PointMapFile.parse(text(input), "map.yaml"));
    }

    @Test
    void nameplate() {
        Fuzz.run(
                "nameplate",
                corpus(SCENARIO.resolve("nameplates"), REJECTED.resolve("nameplates")),
                MOST_BYTES,
                input -> NameplateFile.parse(text(input), "nameplate.yaml"));
    }

    @Test
    void alarms() {
        Fuzz.run(
                "alarms",
                corpus(REJECTED.resolve("alarms")),
                MOST_BYTES,
                input -> AlarmsFile.parse(text(input), "alarms.yaml"));
    }

    /** With sound nameplates and maps beside it, so that the whole of it is read. */
    @Test
    void fleet() throws IOException {
        for (String part : List.of("maps", "nameplates")) {
            Files.createDirectories(folder.resolve(part));
            Files.copy(BENCH.resolve(part + "/bench.yaml"), folder.resolve(part).resolve("bench.yaml"));
        }
        Path file = folder.resolve("fleet.yaml");
        Fuzz.run("fleet", List.of(Files.readAllBytes(BENCH.resolve("fleet.yaml")), SHORT_FLEET), MOST_BYTES, input -> {
            Files.write(file, input);
            FleetFolder.load(folder, name -> Optional.of("value"));
        });
    }

    /** A file that cannot be read is said so by the one exception that says it. */
    @Test
    void csv() {
        Path file = folder.resolve("history.csv");
        Fuzz.run("csv", CSV, MOST_BYTES, input -> {
            Files.write(file, input);
            try {
                new CsvSource(file).samples(sample -> {});
            } catch (ReplayException said) {
                if (said.getMessage() == null || !said.getMessage().contains("history.csv")) {
                    throw said;
                }
            }
        });
    }

    private static final byte[] SHORT_FLEET = """
            site:
              name: Test bench
              zone: "+01:00"
            connections:
              - name: bench
                protocol: mqtt-json
                endpoint: mqtt://${HOST}:1883
                settings: {client-id: a, topics: "bench/+/telemetry"}
            units:
              - {id: X-01, hall: Bench, nameplate: bench, map: bench, connection: bench, name-at-source: CDU01}
            """.getBytes(StandardCharsets.UTF_8);

    private static final List<byte[]> CSV = Stream.of(
                    "time,tcs.supply.temperature,tcs.flow\n2026-11-25T08:00:00Z,31.4,0.02\n2026-11-25T08:00:01Z,,0.021\n",
                    "time,\"tcs.dp\"\r\n2026-11-25T08:00:00+01:00,\"212000\"\r\n\r\n",
                    "time,tcs.supply.temperature [Cel],tcs.flow [L/min]\n1795593600,31.4,1200\n")
            .map(text -> text.getBytes(StandardCharsets.UTF_8))
            .toList();

    private static String text(byte[] bytes) {
        return new String(bytes, StandardCharsets.UTF_8);
    }

    private static List<byte[]> corpus(Path... folders) {
        List<byte[]> all = new ArrayList<>();
        for (Path each : folders) {
            all.addAll(Fuzz.folder(each));
        }
        return all;
    }
}
