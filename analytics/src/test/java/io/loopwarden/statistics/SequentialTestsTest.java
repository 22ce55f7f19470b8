package io.loopwarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.statistics.Sprt.Decision;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Worked sequences; run lengths by simulation are in the leak study. */
class SequentialTestsTest {

    /** Montgomery, Introduction to Statistical Quality Control, tables 9.1 and 9.2: mean 10, k = 0.5, h = 5. */
    private static final double[] MONTGOMERY = {
        9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.2, 10.34, 9.03, 11.47, 10.51, 9.4, 10.08, 9.37, 10.62,
        10.31, 8.52, 10.84, 10.9, 9.33, 12.29, 11.5, 10.6, 11.08, 10.38, 11.62, 11.31, 10.52
    };

    @Test
    void cusumSignalsWhereTheBookDoes() {
        Cusum sum = new Cusum(0.5, 5);
        for (int period = 1; period <= 28; period++) {
            assertThat(sum.accept(MONTGOMERY[period - 1] - 10))
                    .as("period %d", period)
                    .isFalse();
            if (period == 5) {
                assertThat(sum.sum()).isCloseTo(2.82, within(1e-9));
            }
        }
        assertThat(sum.accept(MONTGOMERY[28] - 10)).isTrue();
        assertThat(sum.sum()).isCloseTo(5.28, within(1e-9));
    }

    /** Siegmund's approximation, worked by hand; beside it the exact values 930.9 and 10.376 of the integral equation. */
    @ParameterizedTest
    @CsvSource({"5, 0.5, 0, 938.2", "5, 0.5, 1, 10.336"})
    void runLengthIsThatOfSiegmund(double limit, double reference, double shift, double expected) {
        assertThat(Cusum.runLength(limit, reference, shift)).isCloseTo(expected, within(0.05 * expected / 100 + 0.05));
    }

    /** One value a minute and one false signal a year: 525600 values on one side need h = 12.01 (integral equation: 12.014 on two). */
    @Test
    void limitFollowsFromTheWantedInterval() {
        assertThat(Cusum.limitFor(0.5, 2 * 525_600)).isCloseTo(12.0, within(0.1));
        assertThat(Cusum.runLength(Cusum.limitFor(1, 1e6), 1, 0)).isCloseTo(1e6, within(1.0));
    }

    /** Wald 1947: θ0 = 0, θ1 = 1, σ = 1, α = 1 %, β = 5 %; worked sequence. */
    @Test
    void sprtDecidesWhereTheWorkedSequenceDoes() {
        double[] x = {0.1, 0.8, 1.4, 0.3, 1.1, 1.7, 0.9, 1.6, 0.6};
        Sprt test = new Sprt(0.01, 0.05);
        for (double value : x) {
            assertThat(test.accept(value, 0, 1, 1)).isEqualTo(Decision.NONE_YET);
        }
        assertThat(test.logRatio()).isCloseTo(4.0, within(1e-9));
        assertThat(test.accept(1.2, 0, 1, 1)).isEqualTo(Decision.ALTERNATIVE);
    }

    @Test
    void ewmaLimitsAreThoseOfItsOwnDeviation() {
        Ewma chart = new Ewma(0.2, 3);
        // one value moves the mean by λ·z, whose limit is L·√(λ/(2 − λ)) = 1
        assertThat(chart.accept(4.99)).isFalse();
        assertThat(new Ewma(0.2, 3).accept(5.01)).isTrue();
    }
}
