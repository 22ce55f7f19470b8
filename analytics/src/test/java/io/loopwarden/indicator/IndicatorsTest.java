package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

class IndicatorsTest {

    @Test
    void everyIndicatorHasARowInTheCatalogueWithItsUnit() throws IOException {
        List<String> rows = Files.readAllLines(Path.of("INDICATORS.md"));
        assertThat(Indicators.ALL)
                .allSatisfy(indicator -> assertThat(rows)
                        .as(indicator.key())
                        .anyMatch(row -> row.startsWith("| `" + indicator.key() + "` | " + indicator.unit() + " |")));
    }

    @Test
    void everyRowOfTheCatalogueHasAnIndicator() throws IOException {
        List<String> keys = Indicators.ALL.stream().map(Indicator::key).toList();
        List<String> inCatalogue = Files.readAllLines(Path.of("INDICATORS.md")).stream()
                .filter(row -> row.startsWith("| `"))
                .map(row -> row.substring(3, row.indexOf('`', 3)))
                .toList();
        assertThat(inCatalogue).containsExactlyElementsOf(keys);
    }

    @Test
    void keysAreUnique() {
        assertThat(Indicators.ALL.stream().map(Indicator::key)).doesNotHaveDuplicates();
    }

    /** Key, unit, inputs, equation, source, valid range: a row that lacks one says so. */
    @Test
    void everyRowSaysWhatItReadsHowItIsWorkedOutAndWhereItHolds() throws IOException {
        List<String> rows = Files.readAllLines(Path.of("INDICATORS.md"));
        for (Indicator indicator : Indicators.ALL) {
            String row = rows.stream()
                    .filter(r -> r.startsWith("| `" + indicator.key() + "` |"))
                    .findFirst()
                    .orElseThrow();
            String[] cells = row.substring(1, row.length() - 1).split(" \\| ", -1);
            assertThat(cells).as(indicator.key()).hasSize(6);
            assertThat(cells)
                    .as(indicator.key())
                    .allSatisfy(cell -> assertThat(cell).isNotBlank());
        }
    }

    @Test
    void everyFigureOfHeatTransferSaysWhatItIsFor() throws IOException {
        List<String> purposes = Files.readAllLines(Path.of("INDICATORS.md")).stream()
                .filter(row -> row.startsWith("- `"))
                .toList();
        assertThat(Indicators.ALL)
                .filteredOn(indicator -> indicator.function() == UnitFunction.HEAT_TRANSFER)
                .allSatisfy(indicator -> assertThat(purposes)
                        .as(indicator.key())
                        .anyMatch(line -> line.substring(0, line.indexOf(':')).contains("`" + indicator.key() + "`")));
    }
}
