package io.loopwarden.pointmap;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.pointmap.RegisterLayout.Table;
import io.loopwarden.pointmap.RegisterLayout.Type;
import io.loopwarden.pointmap.RegisterLayout.WordOrder;
import io.loopwarden.yaml.Expected;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class PointMapFileTest {

    private static final String MAPS = "src/test/resources/fleet/maps/";
    private static final PointMapFile QUILLMERE = good("quillmere-1400-opcua.yaml");
    private static final PointMapFile OSTRAVIK = good("ostravik-2000-modbus.yaml");

    static Stream<Path> rejected() {
        return Expected.files("maps");
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("rejected")
    void rejectedMapTellsEveryFault(Path file) throws IOException {
        Expected.check(file, PointMapFile.load(file));
    }

    /** raw · sign · scale + offset, then the unit; the plausible range is in the inner unit. */
    @ParameterizedTest(name = "{0} of {1}")
    @CsvSource(textBlock = """
            # point,                raw,   inside
            tcs.supply.temperature, 100,   37.7777777778
            tcs.flow,               500,   0.0315450982
            tcs.dp,                 85,    586054.369919
            approach.setpoint,      9,     5
            pump.1.speed,           3550,  1
            tray.wet,               1,     0
            tray.wet,               0,     1
            """)
    void scaleSignAndUnitAreFolded(String point, double raw, double inside) {
        assertThat(entry(QUILLMERE, point).conversion().apply(raw)).isCloseTo(inside, within(1e-9 * (1 + inside)));
    }

    @Test
    void rangeIsHeldInTheInnerUnit() {
        PointMap.Entry temperature = entry(QUILLMERE, "tcs.supply.temperature");
        assertThat(temperature.plausibleLowSi()).as("32 °F").isCloseTo(0, within(1e-12));
        assertThat(temperature.plausibleHighSi()).as("200 °F").isCloseTo(93.333333333, within(1e-9));
        assertThat(entry(QUILLMERE, "tray.wet").isPlausible(0)).isTrue();
        assertThat(entry(QUILLMERE, "tray.wet").isPlausible(2))
                .as("without a range: what is physical")
                .isFalse();
    }

    @Test
    void registersAreRead() {
        assertThat(entry(OSTRAVIK, "tcs.supply.temperature").register())
                .isEqualTo(new RegisterLayout(
                        Table.HOLDING, 0, Type.INT16, WordOrder.HIGH_FIRST, Set.of(0x7FFFL, 0x8000L)));
        assertThat(entry(OSTRAVIK, "tcs.flow").register())
                .isEqualTo(new RegisterLayout(Table.HOLDING, 2, Type.FLOAT32, WordOrder.LOW_FIRST));
        assertThat(entry(OSTRAVIK, "pump.1.running").register())
                .isEqualTo(new RegisterLayout(Table.COIL, 4, Type.BIT, WordOrder.HIGH_FIRST));
        assertThat(entry(OSTRAVIK, "tcs.supply.temperature").conversion().apply(355))
                .isCloseTo(35.5, within(1e-12));
    }

    @Test
    void unitNameIsPutIntoTheTag() {
        Map<String, PointMap.Entry> bySource = QUILLMERE.map().bySource("CDU07");
        assertThat(bySource)
                .containsKey("ns=2;s=CDU07/SecFlow")
                .hasSize(QUILLMERE.map().entries().size());
    }

    @Test
    void commandPrintsEveryFaultAndEndsWithOne() {
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        PrintStream out = new PrintStream(printed, true, StandardCharsets.UTF_8);
        assertThat(CheckMap.run(List.of("src/test/resources/rejected/maps/several-faults.yaml"), out))
                .isEqualTo(1);
        assertThat(printed.toString(StandardCharsets.UTF_8).lines())
                .hasSize(4)
                .allSatisfy(line -> assertThat(line).matches(".*several-faults.yaml:1[0-2] points.*"));
        assertThat(CheckMap.run(List.of(MAPS + "ostravik-2000-modbus.yaml"), out))
                .isZero();
        assertThat(CheckMap.run(List.of(), out)).isEqualTo(2);
    }

    private static PointMapFile good(String file) {
        return PointMapFile.load(Path.of(MAPS + file)).value().orElseThrow();
    }

    private static PointMap.Entry entry(PointMapFile file, String point) {
        return file.map().entries().stream()
                .filter(entry -> entry.point().value().equals(point))
                .findFirst()
                .orElseThrow();
    }
}
