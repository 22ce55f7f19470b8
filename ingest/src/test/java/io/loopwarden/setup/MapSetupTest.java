package io.loopwarden.setup;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.collector.FoundTag;
import io.loopwarden.collector.RawReading;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleetfile.FleetFolder;
import io.loopwarden.pointmap.PointMapFile;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A new unit's map is proposed from what is seen, and what cannot be is pointed out. */
class MapSetupTest {

    private static final Nameplate PLATE = FleetFolder.load(Path.of("src/test/resources/fleet")).units().stream()
            .filter(unit -> unit.nameplate().supplier().equals("Quillmere"))
            .findFirst()
            .orElseThrow()
            .nameplate();

    /** A unit at 0.83 MW: 24 and 23 L/s of water, 8.3 and 8.65 K. */
    private static final Map<String, Double> WELL = new LinkedHashMap<>(Map.of(
            "tcs.supply.temperature", 34.0,
            "tcs.return.temperature", 42.3,
            "fws.supply.temperature", 29.5,
            "fws.return.temperature", 38.15,
            "tcs.flow", 1440.0,
            "fws.flow", 1380.0,
            "tcs.dp", 180.0,
            "fws.valve.position", 62.0,
            "fws.valve.command", 62.0));

    private static final Map<String, String> UNITS = Map.of(
            "tcs.flow", "L/min",
            "fws.flow", "L/min",
            "tcs.dp", "kPa",
            "fws.valve.position", "%",
            "fws.valve.command", "%");

    private static List<MapLine> lines(Map<String, Double> values) {
        List<MapLine> lines = new ArrayList<>();
        values.forEach((point, value) -> lines.add(new MapLine(
                io.loopwarden.fleet.PointName.of(point),
                "tag " + point,
                UNITS.getOrDefault(point, "Cel"),
                1,
                0,
                1,
                OptionalDouble.of(value))));
        return lines;
    }

    private static Map<String, Double> with(String point, double value, String other, double otherValue) {
        Map<String, Double> changed = new LinkedHashMap<>(WELL);
        changed.put(point, value);
        changed.put(other, otherValue);
        return changed;
    }

    @Test
    void nothingIsSaidOfAMapThatIsRight() {
        assertThat(MapPhysics.check(lines(WELL), PLATE)).isEmpty();
    }

    @ParameterizedTest(name = "{0} and {2}: {4}")
    @CsvSource({
        "tcs.supply.temperature, 42.3, tcs.return.temperature, 34, swapped",
        "fws.supply.temperature, 38.15, fws.return.temperature, 29.5, swapped",
        "tcs.supply.temperature, 93.2, tcs.return.temperature, 108.1, unit", // °F read as °C
        "tcs.flow, 380.4, tcs.flow, 380.4, unit", // US gal/min read as L/min: loop a quarter of the facility's duty
        "fws.flow, -1380, fws.flow, -1380, sign",
        "fws.valve.position, 38, fws.valve.command, 62, sign", // counts from closed
    })
    void whatCannotBeIsPointedOutAndItsRemedyClearsIt(String a, double x, String b, double y, String kind) {
        List<MapLine> lines = lines(with(a, x, b, y));
        List<MapLine> mended = new ArrayList<>(lines);
        List<Finding> findings = MapPhysics.check(lines, PLATE);
        assertThat(findings).isNotEmpty().extracting(Finding::kind).containsOnly(kind);
        assertThat(findings).flatExtracting(Finding::points).contains(a);
        for (Finding finding : findings) {
            for (MapLine line : finding.remedy()) {
                mended.removeIf(old -> old.source().equals(line.source()));
                mended.add(line);
            }
        }
        assertThat(MapPhysics.check(mended, PLATE)).isEmpty();
    }

    @Test
    void swappedSidesAreToldFromSwappedPipes() {
        List<MapLine> lines = lines(with("tcs.supply.temperature", 29.5, "fws.supply.temperature", 34.0));
        assertThat(MapPhysics.check(lines, PLATE)).anySatisfy(finding -> {
            assertThat(finding.kind()).isEqualTo("swapped");
            assertThat(finding.sentence()).contains("two sides");
        });
    }

    @ParameterizedTest(name = "{0} is {1}")
    @CsvSource({
        "T_TCS_SUP, tcs.supply.temperature",
        "T_TCS_RET_B, tcs.return.temperature.redundant",
        "TcsReturnTemp, tcs.return.temperature",
        "FWS/Supply Temp, fws.supply.temperature",
        "FacilityReturnTemperature, fws.return.temperature",
        "SecondaryFlow, tcs.flow",
        "F_FWS, fws.flow",
        "DP_FILTER_2, tcs.filter.2.dp",
        "SP_DP_TCS, tcs.dp.setpoint",
        "P1_SPEED, pump.1.speed",
        "Pump 2 Speed, pump.2.speed",
        "P_TCS_SUP, tcs.supply.pressure",
        "POS_VALVE, fws.valve.position",
        "LVL_RES, reservoir.level",
        "DP_STRAINER, fws.strainer.dp",
        "DP_HX2_FWS, exchanger.2.fws.dp",
    })
    void aNameIsUnderstood(String tag, String point) {
        assertThat(MapProposal.propose(List.of(found(tag, 1, Optional.empty())), PLATE))
                .singleElement()
                .satisfies(line -> assertThat(line.point().value()).isEqualTo(point));
    }

    @Test
    void namesThatMeanNothingHereAreLeftOut() {
        assertThat(MapProposal.propose(List.of(found("ROOM_HUMIDITY", 41, Optional.empty())), PLATE))
                .isEmpty();
        assertThat(MapProposal.propose(List.of(found("T_TCS_SUP", 30, Optional.of("kPa"))), PLATE))
                .as("a temperature is not in kPa")
                .isEmpty();
    }

    @ParameterizedTest(name = "{0} = {1} is in {2}")
    @CsvSource({
        "T_TCS_SUP, 34.2, Cel",
        "T_TCS_SUP, 93.5, [degF]",
        "F_TCS, 1440, L/min",
        "F_TCS, 24, L/s",
        "DP_TCS, 1.8, bar",
        "DP_TCS, 180, kPa",
        "POS_VALVE, 62, %",
        "POS_VALVE, 0.62, 1"
    })
    void aUnitOfMeasureIsGuessedFromTheValue(String tag, double value, String ucum) {
        assertThat(MapProposal.propose(List.of(found(tag, value, Optional.empty())), PLATE))
                .singleElement()
                .satisfies(line -> assertThat(line.ucum()).isEqualTo(ucum));
    }

    @Test
    void theTextOfAMapIsReadBackAsTheSameMap() {
        List<MapLine> lines = List.of(lines(WELL).get(0).turned(), lines(WELL).get(1));
        String text = MapText.of("new-map", "Quillmere", "1400", "mqtt-json", lines, "CDU\"7");
        PointMapFile read = PointMapFile.parse(text, "new").value().orElseThrow();
        assertThat(read.map().entries())
                .hasSize(2)
                .first()
                .satisfies(entry -> assertThat(
                                entry.conversion().apply(lines.get(0).raw().getAsDouble()))
                        .isEqualTo(lines.get(0).valueSi().getAsDouble()));
    }

    private static FoundTag found(String tag, double value, Optional<String> ucum) {
        return new FoundTag(
                "CDU03", tag, "", ucum, new RawReading(tag, Instant.EPOCH, RawValue.of(value), Quality.GOOD));
    }
}
