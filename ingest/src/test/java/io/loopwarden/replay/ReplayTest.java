package io.loopwarden.replay;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.watch.UnitWatch;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ReplayTest {

    @TempDir
    Path folder;

    private final Recorded recorded = new Recorded(50);
    private final ByteArrayOutputStream told = new ByteArrayOutputStream();

    @BeforeEach
    void files() throws IOException {
        Files.writeString(folder.resolve("plate.yaml"), Recorded.NAMEPLATE);
        recorded.write(folder.resolve("rows.csv"));
    }

    private int replay(String... more) {
        List<String> arguments = new ArrayList<>(List.of(
                folder.resolve("rows.csv").toString(),
                "--nameplate",
                folder.resolve("plate.yaml").toString(),
                "--out",
                folder.resolve("result.csv").toString()));
        arguments.addAll(List.of(more));
        return ReplayMain.run(arguments, new PrintStream(told, true, StandardCharsets.UTF_8));
    }

    private String told() {
        return told.toString(StandardCharsets.UTF_8);
    }

    /** Live asks for figures at any moment, also between those that are compared. */
    @Test
    void aFileGivesTheRowsThatLiveGaveToTheLastBit() throws IOException {
        assertThat(replay("--every", "PT15M")).as(told()).isZero();
        UnitWatch live = new UnitWatch(Recorded.unit("live"));
        List<String> expected = new ArrayList<>();
        for (int row = 0; row < recorded.rows(); row++) {
            recorded.samples(row).forEach(live::accept);
            live.evaluate(recorded.at(row).plusMillis(250));
            if (row % 15 == 0) {
                expected.addAll(ResultFile.rows(live.evaluate(recorded.at(row))));
            }
        }
        List<String> got = Files.readAllLines(folder.resolve("result.csv"));
        assertThat(got.subList(1, got.size()))
                .containsExactlyElementsOf(
                        expected.stream().map(String::stripTrailing).toList());
        assertThat(got).anyMatch(row -> row.matches(".*,ua,W/K,[0-9.]+,.*"));
        assertThat(got).anyMatch(row -> row.contains(",NOT_STEADY,"));
    }

    @Test
    void anotherBaselineIsLearntFromWhereItIsAsked() throws IOException {
        assertThat(replay("--baseline-days", "1.5")).isZero();
        List<String> early = Files.readAllLines(folder.resolve("result.csv"));
        assertThat(replay("--baseline-days", "1.5", "--baseline-from", "2026-11-17T18:00:00Z"))
                .isZero();
        List<String> late = Files.readAllLines(folder.resolve("result.csv"));
        String learning = "The baseline is being learnt";
        assertThat(early.get(early.size() - 1)).doesNotContain(learning);
        assertThat(early).filteredOn(row -> row.contains(learning)).hasSizeLessThan((int)
                late.stream().filter(row -> row.contains(learning)).count());
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', quoteCharacter = '"', textBlock = """
            tcs.flow [L/min]                      | when,                    | line 1: the first column must be 'time', it is 'when'
            time,tcs.flow                         | 2026-11-16T00:00:00Z,1   | line 1: column 'tcs.flow' must read 'point [UCUM]'
            time,tcs.flwo [L/min]                 | 2026-11-16T00:00:00Z,1   | did you mean 'tcs.flow'?
            time,tcs.flow [kPa]                   | 2026-11-16T00:00:00Z,1   | 'kPa' measures a pressure, not a volume flow
            time,tcs.flow [L/s],tcs.flow [L/min]  | 2026-11-16T00:00:00Z,1,1 | tcs.flow has two columns
            time,tcs.flow [L/min]                 | 2026-11-16T00:00:00Z,x   | line 2, tcs.flow: 'x' is not a number
            time,tcs.flow [L/min]                 | 2026-11-16 00:00,1       | line 2: time '2026-11-16 00:00' is not ISO 8601
            time,tcs.flow [L/min]                 | 2026-11-16T00:00:00Z     | line 2: 1 cells, the header has 2
            """)
    void whatCannotBeReadIsNamedWithItsPlace(String header, String row, String message) throws IOException {
        String text = message.contains("'when'") ? row + header + "\n" : header + "\n" + row + "\n";
        Files.writeString(folder.resolve("rows.csv"), text);
        assertThat(replay()).isEqualTo(2);
        assertThat(told()).contains("rows.csv", message);
    }

    @Test
    void emptyCellsAreGapsAndNotANumberIsBad() throws IOException {
        Files.writeString(
                folder.resolve("rows.csv"),
                "time,fws.supply.temperature [Cel],tcs.supply.temperature [Cel]\n2026-11-16T00:00:00Z,,NaN\n2026-11-16T00:15:00Z,,NaN\n");
        assertThat(replay()).as(told()).isZero();
        assertThat(Files.readString(folder.resolve("result.csv"))).contains("INPUT_BAD", "INPUT_MISSING");
    }

    @Test
    void missingOptionsAreToldWithTheUsage() {
        PrintStream out = new PrintStream(told, true, StandardCharsets.UTF_8);
        assertThat(ReplayMain.run(List.of(), out)).isEqualTo(2);
        assertThat(told()).startsWith("usage: deploy/replay FILE.csv --nameplate FILE.yaml --out RESULT.csv");
        assertThat(replay("--every", "soon")).isEqualTo(2);
        assertThat(told()).contains("--every is 'soon'");
    }

    @Test
    void progressTellsHowFarAndHowLong() {
        assertThat(Progress.line(Instant.parse("2026-11-16T00:00:00Z"), 0.25, Duration.ofSeconds(10)))
                .isEqualTo("25 %, at 2026-11-16T00:00:00Z, 30s left");
    }
}
