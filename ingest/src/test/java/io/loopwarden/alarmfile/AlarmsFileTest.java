package io.loopwarden.alarmfile;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.FigureCondition;
import io.loopwarden.alarm.Priority;
import io.loopwarden.yaml.Expected;
import io.loopwarden.yaml.Loaded;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class AlarmsFileTest {

    @TempDir
    Path folder;

    static Stream<Path> rejected() {
        return Expected.files("alarms");
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("rejected")
    void aDefinitionWithAFaultIsRefused(Path file) throws IOException {
        AlarmDefinitions read =
                AlarmsFile.parse(Files.readString(file), file.getFileName().toString());
        Expected.check(file, Loaded.failed(read.faults()));
    }

    @Test
    void theStandardSetIsWithoutFaultsAndCoversEveryFunction() {
        AlarmDefinitions standard = AlarmsFile.load(folder);
        assertThat(standard.faults()).isEmpty();
        assertThat(standard.definitions().stream().map(Definition::function))
                .contains(
                        "heat-transfer",
                        "filtration",
                        "pumping",
                        "containment",
                        "control",
                        "instruments",
                        "data",
                        "facility");
        Set<String> keys = keys(standard);
        assertThat(standard.definitions())
                .allSatisfy(each -> assertThat(keys).as(each.key()).containsAll(each.suppressedWhile()));
        Set<String> groups =
                standard.definitions().stream().map(Definition::group).collect(Collectors.toSet());
        assertThat(standard.definitions())
                .allSatisfy(each -> assertThat(groups).as(each.key()).containsAll(each.follows()));
    }

    @Test
    void aLeakFollowsNothingSoThatItAlwaysStandsAlone() {
        assertThat(AlarmsFile.load(folder).definitions())
                .filteredOn(each -> each.group().equals("leak"))
                .isNotEmpty()
                .allSatisfy(each -> assertThat(each.follows()).isEmpty())
                .anySatisfy(each -> assertThat(each.priority()).isEqualTo(Priority.HIGH));
    }

    @Test
    void aFleetFolderReplacesAddsAndSwitchesOff() throws IOException {
        int before = AlarmsFile.load(folder).definitions().size();
        Files.writeString(folder.resolve("alarms.yaml"), """
                alarms:
                  - {alarm: strainer-loaded, enabled: false, because: no strainers here}
                  - alarm: thermal-reserve-short
                    title: Reserve below ninety per cent
                    function: heat-transfer
                    when: {indicator: heat-transfer-reserve, below: 0.9, confidence: 0.9}
                    cause: Deposits.
                    consequence: Short of duty.
                    severity: major
                    first-action: Plan a cleaning.
                    respond-within: P3D
                    who: cooling
                """);
        AlarmDefinitions own = AlarmsFile.load(folder);
        assertThat(own.faults()).isEmpty();
        assertThat(own.definitions()).hasSize(before - 1);
        assertThat(keys(own)).doesNotContain("strainer-loaded");
        assertThat(own.definitions())
                .filteredOn(each -> each.key().equals("thermal-reserve-short"))
                .singleElement()
                .extracting(each -> ((FigureCondition) each.condition()).limit().value())
                .isEqualTo(0.9);
    }

    @Test
    void aFaultLeavesTheProgramsOwnDefinitionInForce() throws IOException {
        Files.writeString(folder.resolve("alarms.yaml"), """
                alarms:
                  - {alarm: tray-wet, title: Wet, function: containment, when: {point: tray.wet, above: 0.5}}
                """);
        AlarmDefinitions read = AlarmsFile.load(folder);
        assertThat(read.faults()).isNotEmpty();
        assertThat(List.copyOf(keys(read))).contains("tray-wet");
    }

    private static Set<String> keys(AlarmDefinitions definitions) {
        return definitions.definitions().stream().map(Definition::key).collect(Collectors.toSet());
    }
}
