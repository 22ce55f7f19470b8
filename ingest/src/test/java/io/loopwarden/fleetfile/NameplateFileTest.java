package io.loopwarden.fleetfile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.yaml.Expected;
import java.io.IOException;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class NameplateFileTest {

    static Stream<Path> rejected() {
        return Expected.files("nameplates");
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("rejected")
    void rejectedNameplateTellsEveryFault(Path file) throws IOException {
        Expected.check(file, NameplateFile.load(file, file.getFileName().toString()));
    }

    /** Columns of ASHRAE's table of volume and mass percent of propylene glycol; both agree within 0.3 %-points up to 25.7, within 1 up to 50. */
    @ParameterizedTest(name = "{0} % by volume")
    @CsvSource(textBlock = """
            # volume, mass
            19.4,     20
            24.4,     25
            25,       25.7
            29.4,     30
            34.4,     35
            39.6,     40
            49.9,     50
            """)
    void volumePercentBecomesMassFraction(double volumePercent, double massPercent) {
        double tolerance = massPercent > 25.7 ? 1.0 : 0.3;
        assertThat(100 * CoolantField.massFraction(volumePercent / 100)).isCloseTo(massPercent, within(tolerance));
    }
}
