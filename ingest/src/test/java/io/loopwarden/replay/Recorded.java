package io.loopwarden.replay;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetfile.NameplateFile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;

/** A made-up recording of one unit in other units of measure than ours, a row a minute, and its nameplate. */
public final class Recorded {

    public static final Instant START = Instant.parse("2026-11-16T00:00:00Z");

    static final String NAMEPLATE = """
            nameplate: replay-test
            supplier: Quillmere
            model: "1200"
            rated-duty: 1.2 MW
            rated-approach: 4 K
            rated-tcs-flow: 1500 L/min
            rated-fws-flow: 1500 L/min
            available-head: 200 kPa
            design-fws-supply-temperature: 30 Cel
            tcs-coolant: {kind: water}
            pumps: 1
            pumps-needed: 1
            exchangers: 1
            filters: 1
            loop-volume: 900 L
            reservoir-volume: 100 L
            filter-terminal-dp: 30 kPa
            sensors: {temperature-class: A, flow-limit: 1 %, pressure-limit: 1 kPa}
            """;

    private final List<String> header = new ArrayList<>();
    private final List<Map<String, Double>> rows = new ArrayList<>();

    /** Hours of a load that steps every hour, so that some windows are steady and some are not. */
    public Recorded(int hours) {
        Random random = new Random(3);
        for (int minute = 0; minute < hours * 60; minute++) {
            double load = 0.5 + 0.2 * ((minute / 60) % 3);
            Map<String, Double> row = new LinkedHashMap<>();
            row.put("tcs.return.temperature [Cel]", 34 + 10 * load + random.nextGaussian() / 100);
            row.put("tcs.supply.temperature [[degF]]", 93.2 + random.nextGaussian() / 100);
            row.put("fws.supply.temperature [Cel]", 34 - 4 * load + random.nextGaussian() / 100);
            row.put("fws.return.temperature [Cel]", 34 + 6 * load + random.nextGaussian() / 100);
            row.put("tcs.flow [L/min]", 1452 + random.nextGaussian());
            row.put("fws.flow [m3/h]", 87.1 + random.nextGaussian() / 20);
            row.put("fws.valve.position [%]", 70.0);
            row.put("pump.1.head [kPa]", 262 + random.nextGaussian());
            row.put("pump.1.speed [%]", 80.0);
            rows.add(row);
        }
        header.addAll(rows.get(0).keySet());
    }

    /** The unit, by its nameplate. */
    public static Unit unit(String id) {
        NameplateFile plate =
                NameplateFile.parse(NAMEPLATE, "test.yaml").value().orElseThrow();
        return new Unit(new UnitId(id), "replay", "replay", plate.nameplate());
    }

    Instant at(int row) {
        return START.plusSeconds(60L * row);
    }

    public int rows() {
        return rows.size();
    }

    /** The samples of a row as a collector would have made them, in the order of the points' names. */
    public List<Sample> samples(int row) {
        Map<PointName, Sample> byPoint = new java.util.TreeMap<>();
        rows.get(row)
                .forEach((heading, value) -> CsvColumn.of(heading)
                        .sample(at(row), value.toString())
                        .ifPresent(sample -> byPoint.put(sample.point(), sample)));
        return List.copyOf(byPoint.values());
    }

    public void write(Path file) throws IOException {
        StringBuilder text = new StringBuilder("time," + String.join(",", header) + "\n");
        for (int row = 0; row < rows.size(); row++) {
            text.append(at(row));
            rows.get(row).values().forEach(value -> text.append(',').append(value));
            text.append('\n');
        }
        Files.writeString(file, text);
    }
}
