package io.loopwarden.virtual.scenario;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.virtual.Truth;
import io.loopwarden.virtual.Units;
import io.loopwarden.virtual.VirtualUnit;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.OptionalLong;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ScenarioTest {

    private final Scenario scenario = Scenario.load(Units.SCENARIO, Units.START, Scenario.Options.AS_WRITTEN);

    @Test
    void twentyFourUnitsOverFourWaysWithFortyPointsAndMore() {
        Map<String, Long> byProtocol = scenario.fleet().units().stream()
                .collect(Collectors.groupingBy(
                        unit -> scenario.fleet().mapOf(unit).protocol(), Collectors.counting()));
        assertThat(byProtocol)
                .containsExactlyInAnyOrderEntriesOf(
                        Map.of("opc-ua", 7L, "modbus-tcp", 6L, "mqtt-json", 6L, "mqtt-sparkplug", 5L));
        assertThat(scenario.fleet().maps().values())
                .allSatisfy(map -> assertThat(map.tags()).hasSizeBetween(40, 46));
    }

    @Test
    void theSuppliersConventionsAreTurnedRound() {
        Tag closed = tag("ostravik-c14-sparkplug", "fws.valve.position");
        assertThat(closed.raw(0.25)).isCloseTo(75, within(1e-9));
        Tag strainer = tag("ostravik-c14-modbus", "fws.strainer.dp");
        assertThat(strainer.raw(6894.757)).isCloseTo(-100, within(1e-3));
        Tag supply = tag("ostravik-c14-modbus", "tcs.supply.temperature");
        assertThat(supply.raw(35)).isCloseTo(950, within(1e-6));
        Tag speed = tag("ostravik-c14-modbus", "pump.1.speed");
        assertThat(speed.raw(0.8)).isCloseTo(2840, within(1e-9));
        Tag back = tag("quillmere-1400-json", "tcs.return.flow");
        assertThat(back.raw(0.025)).isCloseTo(-90, within(1e-9));
        Tag setpoint = tag("ostravik-c14-modbus", "approach.setpoint");
        assertThat(setpoint.raw(3)).isCloseTo(-54, within(1e-9));
    }

    private Tag tag(String map, String point) {
        return scenario.fleet().maps().get(map).tags().stream()
                .filter(tag -> tag.point().value().equals(point))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void theStoryIsToldFromTheStart() {
        Truth fouled = truth("E-07");
        assertThat(fouled.approachAtRatedK()).isBetween(2.6, 3.0);
        assertThat(truth("W-03").pumpWear().get(0)).isBetween(0.15, 0.22);
        assertThat(truth("E-11").filterLoading().get(2)).isGreaterThan(2.8);
        assertThat(truth("E-09").leakM3PerS()).isCloseTo(1.5e-3 / 3600, within(1e-12));
        assertThat(truth("E-05").approachAtRatedK()).as("a healthy unit").isBetween(2.0, 2.5);
    }

    private Truth truth(String unit) {
        return new VirtualUnit(scenario.units().get(unit), Units.START).truth();
    }

    @Test
    void aFreshFleetBeginsWithoutTheOldFaults() {
        Scenario fresh = Scenario.load(Units.SCENARIO, Units.START, new Scenario.Options(OptionalLong.of(7), true));
        Truth truth = new VirtualUnit(fresh.units().get("E-07"), Units.START).truth();
        assertThat(truth.approachAtRatedK()).isLessThan(2.5);
    }

    @Test
    void theResolvedFolderDiffersByEndpointsOnly(@TempDir Path folder) throws IOException {
        scenario.fleet().writeResolved(folder, Map.of("east-modbus", "modbus://127.0.0.1:999"));
        FleetFile resolved = FleetFile.load(folder);
        assertThat(resolved.units()).isEqualTo(scenario.fleet().units());
        assertThat(resolved.lines())
                .filteredOn(line -> line.endpoint().equals("modbus://127.0.0.1:999"))
                .extracting(FleetFile.Line::name)
                .containsExactly("east-modbus");
        assertThat(folder.resolve("nameplates")).isDirectoryContaining("glob:**.yaml");
        assertThat(Files.readString(folder.resolve("fleet.yaml"))).startsWith("# ");
    }

    @Test
    void anUnknownKindOfFaultIsNamed() {
        assertThatThrownBy(() -> FaultFields.of(Map.of("kind", "gremlin"), 0))
                .hasMessageContaining("gremlin")
                .hasMessageContaining("pump-wear");
        assertThatThrownBy(() -> FaultFields.of(Map.of("kind", "leak", "stepp", 1), 0))
                .hasMessageContaining("stepp");
    }
}
