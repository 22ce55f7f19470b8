package io.loopwarden.modbus;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.pointmap.PointMap;
import io.loopwarden.pointmap.PointMapFile;
import java.net.URI;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/** Connections for tests, their maps written as in a file. */
final class TestMaps {

    private TestMaps() {}

    static PointMap map(String... points) {
        String head = "map: test\nsupplier: Ostravik\nmodel: OV\nprotocol: modbus-tcp\npoints:\n";
        StringBuilder text = new StringBuilder(head);
        Stream.of(points).forEach(point -> text.append("  - {").append(point).append("}\n"));
        var loaded = PointMapFile.parse(text.toString(), "test.yaml");
        return loaded.value()
                .orElseThrow(() -> new IllegalArgumentException(loaded.faults().toString()))
                .map();
    }

    static ServedUnit served(String id, String number, PointMap map) {
        return new ServedUnit(new UnitId(id), number, map);
    }

    /** @param settings name, value, name, value, … */
    static Connection connection(URI endpoint, List<ServedUnit> units, String... settings) {
        Map<String, String> all = new HashMap<>();
        for (int i = 0; i < settings.length; i += 2) {
            all.put(settings[i], settings[i + 1]);
        }
        return new Connection("line", "modbus-tcp", endpoint, all, units);
    }

    static ModbusSettings settings(String... settings) {
        return ModbusSettings.from(connection(URI.create("modbus://127.0.0.1:502"), List.of(), settings));
    }

    /** Quick polls and quick reconnects, with what the test wants besides; a busy machine may take its time to answer. */
    static String[] quick(String... more) {
        String[] quick = {
            "poll-interval",
            "PT0.05S",
            "timeout",
            "PT2S",
            "retries",
            "0",
            "reconnect-first",
            "PT0.1S",
            "reconnect-longest",
            "PT0.5S"
        };
        String[] all = Arrays.copyOf(quick, quick.length + more.length);
        System.arraycopy(more, 0, all, quick.length, more.length);
        return all;
    }
}
