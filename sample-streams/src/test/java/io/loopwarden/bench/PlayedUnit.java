package io.loopwarden.bench;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.virtual.Readings;
import io.loopwarden.virtual.UnitSpec;
import io.loopwarden.virtual.VirtualUnit;
import io.loopwarden.virtual.scenario.Scenario;
import io.loopwarden.virtual.scenario.Tag;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** Some minutes of a virtual unit over MQTT, second by second, to be played again and again as other units at other times. */
final class PlayedUnit {

    static final Instant START = Instant.parse("2026-11-16T00:00:00Z");

    private final UnitSpec spec;
    private final List<Tag> tags;
    private final List<PointName> points;
    private final Conversion[] conversions;
    private final double[][] values;

    /** @param root the repository */
    PlayedUnit(Path root, int seconds) {
        Scenario scenario = Scenario.load(root.resolve("sample-streams/scenario"), START, Scenario.Options.AS_WRITTEN);
        var served = scenario.fleet().units().stream()
                .filter(unit -> unit.map().equals("quillmere-1400-json"))
                .findFirst()
                .orElseThrow();
        spec = scenario.units().get(served.id());
        tags = scenario.fleet().mapOf(served).tags();
        points = tags.stream().map(Tag::point).toList();
        conversions = points.stream().map(p -> Conversion.none(p.quantity())).toArray(Conversion[]::new);
        VirtualUnit unit = virtual();
        values = new double[seconds][points.size()];
        for (int second = 0; second < seconds; second++) {
            unit.step(Duration.ofSeconds(1));
            Readings now = unit.readings();
            for (int p = 0; p < points.size(); p++) {
                values[second][p] = now.value(points.get(p).value());
            }
        }
    }

    VirtualUnit virtual() {
        return new VirtualUnit(spec, START);
    }

    Unit unit(String id) {
        return new Unit(new UnitId(id), "bench", "bench", spec.plant().nameplate());
    }

    List<PointName> points() {
        return points;
    }

    int seconds() {
        return values.length;
    }

    /** What was shown in a second, as if it were now; after the last second the first comes again. */
    List<Sample> samples(int second, Instant at) {
        double[] shown = values[Math.floorMod(second, values.length)];
        List<Sample> samples = new ArrayList<>(shown.length);
        for (int p = 0; p < shown.length; p++) {
            PointName point = points.get(p);
            boolean whole = isWhole(point);
            RawValue raw = whole ? RawValue.of(Math.round(shown[p])) : RawValue.of(shown[p]);
            samples.add(new Sample(point, at, raw, conversions[p], Quality.GOOD));
        }
        return samples;
    }

    /** The values of a second as a JSON object of the service's form, in the source's units. */
    String json(int second) {
        double[] shown = values[Math.floorMod(second, values.length)];
        StringBuilder json = new StringBuilder("{");
        for (int p = 0; p < shown.length; p++) {
            Tag tag = tags.get(p);
            double raw = tag.raw(shown[p]);
            json.append(p == 0 ? "\"" : ",\"").append(tag.source("")).append("\":");
            if (tag.point().quantity() == Quantity.FLAG) {
                json.append(raw > 0.5);
            } else if (tag.point().quantity() == Quantity.COUNT) {
                json.append(Math.round(raw));
            } else {
                json.append(Math.round(raw * 1e4) / 1e4);
            }
        }
        return json.append('}').toString();
    }

    private static boolean isWhole(PointName point) {
        return point.quantity() == Quantity.FLAG || point.quantity() == Quantity.COUNT;
    }
}
