package io.loopwarden.fleetfile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.yaml.Fault;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class FleetFolderTest {

    private static final Path GOOD = Path.of("src/test/resources/fleet");

    @TempDir
    private Path folder;

    @BeforeEach
    void copyTheGoodFleet() throws IOException {
        try (Stream<Path> files = Files.walk(GOOD)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                Path copy = folder.resolve(GOOD.relativize(file).toString());
                Files.createDirectories(copy.getParent());
                Files.copy(file, copy);
            }
        }
    }

    @Test
    void goodFleetIsReadWhole() {
        FleetConfig fleet = load();
        assertThat(fleet.faults()).isEmpty();
        assertThat(fleet.zone()).isEqualTo(ZoneOffset.ofHours(1));
        assertThat(fleet.units())
                .extracting(Unit::id)
                .extracting(UnitId::value)
                .containsExactly("E-01", "E-02", "W-01");
        assertThat(fleet.units()).extracting(Unit::hall).containsExactly("East", "East", "West");
        assertThat(fleet.connections()).extracting(Connection::name).containsExactly("east-opcua", "west-modbus");
        assertThat(fleet.connections().get(0).endpoint()).hasToString("opc.tcp://127.0.0.1:48400");
        assertThat(fleet.connections().get(0).settings()).containsEntry("publishing-interval", "PT0.5S");
        assertThat(fleet.connections().get(0).units())
                .extracting(ServedUnit::nameAtSource)
                .containsExactly("CDU01", "CDU02");
    }

    @Test
    void sampleFleetHasNoFault() {
        FleetConfig fleet = FleetFolder.load(Path.of("../sample-streams/scenario/fleet"), name -> Optional.empty());
        assertThat(fleet.faults()).isEmpty();
        assertThat(fleet.units()).hasSize(24);
        assertThat(fleet.connections().stream()
                        .mapToInt(line -> line.units().size())
                        .sum())
                .isEqualTo(24);
    }

    @Test
    void nameplateIsConvertedToInnerUnits() {
        Nameplate plate = load().units().get(0).nameplate();
        assertThat(plate.ratedDutyW()).isEqualTo(1.4e6);
        assertThat(plate.ratedTcsFlowM3PerS()).as("350 US gal/min").isCloseTo(0.0220815687, within(1e-9));
        assertThat(plate.availableHeadPa()).as("45 psi").isCloseTo(310264.078, within(1e-3));
        assertThat(plate.designFwsSupplyTemperatureC()).as("75 °F").isCloseTo(23.8889, within(1e-4));
        assertThat(plate.tcsCoolant().glycolMassFraction()).as("25 % by volume").isCloseTo(0.2570, within(0.0002));
        assertThat(plate.loopVolumeM3()).as("200 US gal").isCloseTo(0.7570823568, within(1e-9));
        assertThat(plate.plateAreaM2()).isEmpty();
        assertThat(plate.sensors().temperatureLimitK()).as("IEC 60751 class A").isEqualTo(0.15);
    }

    @Test
    void environmentFillsEndpointsAndSettings() {
        FleetConfig fleet =
                FleetFolder.load(folder, name -> name.equals("EAST_PORT") ? Optional.of("4999") : Optional.empty());
        assertThat(fleet.connections().get(0).endpoint()).hasPort(4999);
    }

    @Test
    void unsetVariableIsAFaultAndTakesOutItsConnectionOnly() throws IOException {
        change("fleet.yaml", "PT0.5S", "\"${NO_SUCH_VARIABLE}\"");
        FleetConfig fleet = load();
        assertThat(fleet.faults())
                .extracting(Fault::toString)
                .contains("fleet.yaml:8 connections[0].settings.publishing-interval: "
                        + "the environment variable NO_SUCH_VARIABLE is not set");
        assertThat(fleet.connections()).extracting(Connection::name).containsExactly("west-modbus");
    }

    @Test
    void faultyMapLeavesItsUnitsWithoutALineAndTheRestAlone() throws IOException {
        change("maps/quillmere-1400-opcua.yaml", "[psi]", "[psii]");
        FleetConfig fleet = load();
        assertThat(fleet.units()).hasSize(3);
        assertThat(fleet.connections().get(0).units()).isEmpty();
        assertThat(fleet.connections().get(1).units()).hasSize(1);
        assertThat(fleet.faults())
                .extracting(Fault::toString)
                .containsExactly(
                        "fleet.yaml:13 units[0].map: there is no point map 'quillmere-1400-opcua' without faults; "
                                + "with faults: maps/quillmere-1400-opcua.yaml; the unit is not read",
                        "fleet.yaml:14 units[1].map: there is no point map 'quillmere-1400-opcua' without faults; "
                                + "with faults: maps/quillmere-1400-opcua.yaml; the unit is not read",
                        "maps/quillmere-1400-opcua.yaml:8 points[2].unit: '[psii]' is not a UCUM unit we know, "
                                + "did you mean '[psi]'?");
    }

    @Test
    void faultyNameplateTakesOutItsUnitsOnly() throws IOException {
        change("nameplates/ostravik-2000.yaml", "rated-duty: 2 MW", "rated-duty: 2 kPa");
        FleetConfig fleet = load();
        assertThat(fleet.units()).extracting(unit -> unit.id().value()).containsExactly("E-01", "E-02");
        assertThat(fleet.faults())
                .extracting(Fault::toString)
                .anyMatch(fault -> fault.startsWith(
                        "nameplates/ostravik-2000.yaml:4 rated-duty: 'kPa' measures a pressure, not a power"));
    }

    @Test
    void faultyUnitTakesOutItselfOnly() throws IOException {
        change("fleet.yaml", "id: E-02", "id: E-01");
        FleetConfig fleet = load();
        assertThat(fleet.units()).extracting(unit -> unit.id().value()).containsExactly("E-01", "W-01");
        assertThat(fleet.faults())
                .extracting(Fault::toString)
                .containsExactly("fleet.yaml:14 units[1].id: 'E-01' is already the unit of line 13");
    }

    @Test
    void mapOfAnotherSupplierOrProtocolIsRefused() throws IOException {
        change("fleet.yaml", "map: ostravik-2000-modbus", "map: quillmere-1400-opcua");
        FleetConfig fleet = load();
        assertThat(fleet.faults())
                .extracting(Fault::message)
                .containsExactly(
                        "'quillmere-1400-opcua' is for opc-ua, connection 'west-modbus' speaks modbus-tcp",
                        "'quillmere-1400-opcua' is for supplier Quillmere, the nameplate is from Ostravik");
    }

    @Test
    void sameNameAtSourceTwiceIsRefused() throws IOException {
        change("fleet.yaml", "CDU02", "CDU01");
        FleetConfig fleet = load();
        assertThat(fleet.faults())
                .extracting(Fault::message)
                .containsExactly("'CDU01' on connection 'east-opcua' is already the unit of line 13");
        assertThat(fleet.connections().get(0).units()).hasSize(1);
    }

    @Test
    void folderThatIsNotThereIsSaid() {
        FleetConfig fleet = FleetFolder.load(folder.resolve("nowhere"));
        assertThat(fleet.units()).isEmpty();
        assertThat(fleet.faults())
                .extracting(Fault::file)
                .containsExactlyInAnyOrder("fleet.yaml", "maps", "nameplates");
    }

    private FleetConfig load() {
        return FleetFolder.load(folder, name -> Optional.empty());
    }

    private void change(String file, String from, String to) throws IOException {
        Path path = folder.resolve(file);
        String text = Files.readString(path);
        assertThat(text).contains(from);
        Files.writeString(path, text.replace(from, to));
    }
}
