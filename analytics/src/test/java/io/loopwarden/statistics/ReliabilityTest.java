package io.loopwarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.statistics.KaplanMeier.Life;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Cases of the NIST/SEMATECH e-Handbook of Statistical Methods, chapter 8. */
class ReliabilityTest {

    @ParameterizedTest(name = "{0}")
    @CsvSource(delimiter = '|', textBlock = """
            # case               | operating | failures | confidence | lower   | upper    | source
            two failures         | 800       | 2        | 0.9        | 127.069 | 2251.23  | section 8.4.5.1 (example from memory, recomputed)
            factor, one failure  | 1         | 1        | 0.9        | 0.2108  | 19.4957  | table of factors there
            factor, three        | 3         | 3        | 0.9        | 0.3869  | 3.6689   | table of factors there
            factor, five         | 5         | 5        | 0.9        | 0.4756  | 2.5379   | table of factors there
            factor, ten          | 10        | 10       | 0.9        | 0.5895  | 1.8432   | table of factors there
            """)
    void boundsOfTheMeanTimeBetweenFailures(
            String name,
            double operating,
            long failures,
            double confidence,
            double lower,
            double upper,
            String source) {
        TimeBetweenFailures t = TimeBetweenFailures.of(operating, failures, confidence);
        assertThat(t.lower()).as(source).isCloseTo(lower, within(lower * 3e-4));
        assertThat(t.upper().orElseThrow()).as(source).isCloseTo(upper, within(upper * 2e-4));
        assertThat(t.mean().orElseThrow()).isEqualTo(operating / failures);
    }

    /** Without a failure the bound is T / (−ln α): 10 000 h give 3338.08 h at 95 % and 10913.57 h at 60 % (section 8.4.5.1). */
    @Test
    void noFailureGivesOneBound() {
        assertThat(TimeBetweenFailures.of(10_000, 0, 0.95).lower()).isCloseTo(3338.08, within(0.01));
        assertThat(TimeBetweenFailures.of(10_000, 0, 0.60).lower()).isCloseTo(10_913.57, within(0.01));
        assertThat(TimeBetweenFailures.of(10_000, 0, 0.95).upper()).isEmpty();
    }

    /** Section 8.2.1.5: 20 units, six failures, four withdrawn, ten still alive at 200 h. */
    @Test
    void sharesThatOutliveATime() {
        List<Life> lives = new ArrayList<>();
        for (double failed : new double[] {10, 32, 56, 98, 122, 181}) {
            lives.add(new Life(failed, true));
        }
        for (double withdrawn : new double[] {50, 100, 125, 150}) {
            lives.add(new Life(withdrawn, false));
        }
        for (int i = 0; i < 10; i++) {
            lives.add(new Life(200, false));
        }
        KaplanMeier share = KaplanMeier.of(lives);
        double[] times = {10, 32, 56, 98, 122, 181};
        double[] expected = {0.9500, 0.9000, 0.8471, 0.7941, 0.7374, 0.6704};
        for (int i = 0; i < times.length; i++) {
            assertThat(share.at(times[i])).as("at " + times[i]).isCloseTo(expected[i], within(6e-5));
        }
        assertThat(share.at(9.9)).isEqualTo(1);
    }
}
