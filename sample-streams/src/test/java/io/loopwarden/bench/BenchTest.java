package io.loopwarden.bench;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.bench.Wanted.Size;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The benchmarks run and write what they should, at sizes that say nothing of speed; those of the whole service are left out. */
class BenchTest {

    private static final Wanted TINY =
            new Wanted(Size.TINY, 0, OptionalInt.empty(), Path.of("..").toAbsolutePath(), Optional.empty());

    @Test
    void messagesOfAProtocolEndInCommittedSamples() throws Exception {
        assertThat(new MqttRate().run(TINY).lines())
                .singleElement()
                .satisfies(
                        line -> assertThat(line.ratio().orElseThrow().median()).isPositive());
    }

    @Test
    void aSheetIsWrittenInTheDocumentedForm(@TempDir Path folder) throws Exception {
        Line line = Line.rate("what", Runs.of(6, 8, 7), Runs.of(2, 2, 2), "samples/s", 5);
        Chart chart = new Chart(
                "curve",
                "A & B",
                "units",
                "us",
                List.of(new Chart.Curve("ours", List.of(new double[] {10, 3}, new double[] {10_000, 4}))));
        new Sheet(List.of(line), List.of(chart)).write(folder, "row");
        assertThat(Files.readString(folder.resolve("row.json")))
                .contains("\"ours\" : 7.0", "\"baseline\" : 2.0", "\"ratio\" : 3.5", "\"goal\" : \">= 5 x\"")
                .contains("\"holds\" : false", "\"unit\" : \"samples/s\"");
        assertThat(Files.readString(folder.resolve("curve.svg"))).contains("A &amp; B", "10.0k");
    }

    @Test
    void quantilesAreInterpolated() {
        Runs runs = Runs.of(4, 1, 3, 2);
        assertThat(runs.median()).isEqualTo(2.5);
        assertThat(runs.quantile(1)).isEqualTo(4);
        assertThat(runs.over(Runs.of(2, 2))).isEqualTo(Runs.of(1.25));
    }
}
