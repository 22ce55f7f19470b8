package io.loopwarden.pointmap;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.Quantity;
import io.loopwarden.yaml.Loaded;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;

/** Whatever a file holds, reading it gives a map or faults, each with a line of the file, and never an exception. */
class PointMapFileProperties {

    private static final String GOOD = read("src/test/resources/fleet/maps/ostravik-2000-modbus.yaml");

    @Property(tries = 500)
    void anyTextIsReadOrRefused(@ForAll String text) {
        check(text);
    }

    @Property(tries = 500)
    void anyYamlLikeTextIsReadOrRefused(@ForAll("yamlLike") String text) {
        check(text);
    }

    @Property(tries = 1000)
    void goodMapWithAPieceChangedIsReadOrRefused(
            @ForAll @IntRange(max = 1000) int at, @ForAll @IntRange(max = 20) int cut, @ForAll("yamlLike") String put) {
        int from = at % GOOD.length();
        int to = Math.min(GOOD.length(), from + cut);
        check(GOOD.substring(0, from) + put + GOOD.substring(to));
    }

    @Property(tries = 1000)
    void anyUnitCodeIsKnownOrRefused(@ForAll("unitLike") String code, @ForAll Quantity quantity) {
        UnitLookup lookup = UcumUnits.conversion(code, quantity);
        if (lookup instanceof UnitLookup.Refused refused) {
            assertThat(refused.message()).contains("'" + code + "'");
        }
    }

    @Provide
    Arbitrary<String> yamlLike() {
        return Arbitraries.of(
                        "points:",
                        "\n",
                        "  - ",
                        "{",
                        "}",
                        "[",
                        "]",
                        ": ",
                        ", ",
                        "point",
                        "tcs.flow",
                        "source",
                        "&a ",
                        "*a",
                        "!!set ",
                        "|",
                        ">",
                        "\"",
                        "'",
                        "0x7F",
                        "-1",
                        "1e999",
                        ".nan",
                        "~",
                        "<<",
                        "holding/7",
                        "%",
                        "[psi]",
                        "\t",
                        "#",
                        "---\n",
                        "...",
                        "? ",
                        "@",
                        "{unit}")
                .list()
                .ofMaxSize(30)
                .map(parts -> String.join("", parts));
    }

    @Provide
    Arbitrary<String> unitLike() {
        return Arbitraries.of(
                        "[psi]", "L", "/", ".", "min", "m", "3", "99", "9999", "k", "(", ")", "{rev}", "{", "}", "%",
                        "*", "10", "^", "Cel", "[degF]", "-", "+", " ", "°", "[pH]", "[HP]", "0", "1")
                .list()
                .ofMaxSize(8)
                .map(parts -> String.join("", parts));
    }

    private static void check(String text) {
        Loaded<PointMapFile> loaded = PointMapFile.parse(text, "example.yaml");
        int lines = 1 + text.split("\r\n|[\n\r\u0085\u2028\u2029]", -1).length;
        assertThat(loaded.faults()).allSatisfy(fault -> {
            assertThat(fault.file()).isEqualTo("example.yaml");
            assertThat(fault.line()).isBetween(1, lines);
            assertThat(fault.message()).isNotBlank();
        });
    }

    private static String read(String file) {
        try {
            return Files.readString(Path.of(file));
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }
}
