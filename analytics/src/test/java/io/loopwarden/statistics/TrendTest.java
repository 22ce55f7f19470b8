package io.loopwarden.statistics;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.statistics.Computed.Reason;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TrendTest {

    private static final double[] X = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11};
    private static final double[] Y = {2.1, 2, 2.3, 2.2, 2.5, 2.4, 2.4, 2.9, 2.6, 2.8, 3.1, 3};

    /** Gilbert 1987, section 16.4: four values, S = 4, exact one-sided probability 0.167. */
    @Test
    void gilbertsFourValues() {
        MannKendall test = valueOf(MannKendall.of(new double[] {10, 15, 14, 20}));
        assertThat(test.s()).isEqualTo(4);
        assertThat(test.twoSidedP()).isCloseTo(2 * 0.167, within(0.001));
    }

    /** Counted over the 24 orders of four values. */
    @ParameterizedTest
    @CsvSource({"6, 0.0416667", "4, 0.1666667", "2, 0.375", "-6, 1"})
    void exactTail(long s, double probability) {
        assertThat(MannKendall.exactUpperTail(4, s)).isCloseTo(probability, within(1e-7));
    }

    /** Twelve values with one tie, worked independently. */
    @Test
    void twelveValuesWithATie() {
        MannKendall test = valueOf(MannKendall.of(Y));
        assertThat(test.s()).isEqualTo(51);
        assertThat(test.variance()).isCloseTo(211.6667, within(0.00005));
        assertThat(test.z()).isCloseTo(3.43672, within(0.000005));
        assertThat(test.twoSidedP()).isCloseTo(5.888e-4, within(5e-8));
    }

    @Test
    void slopeAndItsIntervalOfTheSameValues() {
        TheilSen line = valueOf(TheilSen.of(X, Y, 0.95));
        assertThat(line.slope()).isCloseTo(0.1, within(1e-12));
        assertThat(line.intercept()).isCloseTo(1.9, within(1e-12));
        assertThat(line.lowerSlope()).isCloseTo(0.06559, within(0.000005));
        assertThat(line.upperSlope()).isCloseTo(0.12, within(1e-9));
        assertThat(valueOf(LineFit.of(X, Y)).slope()).isCloseTo(0.092657, within(5e-7));
    }

    @Test
    void oneSpikeMovesLeastSquaresButNotTheMedianSlope() {
        double[] spiked = Y.clone();
        spiked[6] = 9.9;
        assertThat(valueOf(TheilSen.of(X, spiked, 0.95)).slope()).isCloseTo(0.1, within(1e-12));
        assertThat(valueOf(LineFit.of(X, spiked)).slope()).isCloseTo(0.118881, within(5e-7));
    }

    @Test
    void tooLittleToTellIsAReason() {
        assertThat(reasonOf(MannKendall.of(new double[] {1, 2, 3}))).isEqualTo(Reason.INPUT_MISSING);
        assertThat(reasonOf(MannKendall.of(new double[] {2, 2, 2, 2}))).isEqualTo(Reason.NOT_OBSERVABLE);
        assertThat(reasonOf(TheilSen.of(new double[] {1, 1, 1, 1}, new double[] {1, 2, 3, 4}, 0.95)))
                .isEqualTo(Reason.NOT_OBSERVABLE);
        assertThat(reasonOf(TheilSen.of(new double[2001], new double[2001], 0.95)))
                .isEqualTo(Reason.INPUT_MISSING);
        assertThat(reasonOf(LineFit.of(new double[] {5, 5, 5}, new double[] {1, 2, 3})))
                .isEqualTo(Reason.NOT_OBSERVABLE);
        assertThatThrownBy(() -> LineFit.of(new double[] {1, 2}, new double[] {1, Double.NaN}))
                .hasMessageContaining("y[1] is NaN");
    }
}
