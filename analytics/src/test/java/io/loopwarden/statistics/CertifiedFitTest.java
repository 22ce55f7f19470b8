package io.loopwarden.statistics;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.statistics.Computed.Reason;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Data sets with certified answers of the NIST Statistical Reference Datasets. */
class CertifiedFitTest {

    private static final double[] MISRA_X = {
        77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760
    };
    private static final double[] MISRA_Y = {
        10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78
    };
    private static final double[] BOX_X = {1, 2, 3, 5, 7, 10};
    private static final double[] BOX_Y = {109, 149, 149, 191, 213, 224};
    private static final double[] NORRIS_X = {
        0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338, 447.5,
        11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1,
        448.9, 0.5
    };
    private static final double[] NORRIS_Y = {
        0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9,
        10.8, 557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4,
        449.2, 0.2
    };

    private static void isMisra1a(ExponentialRise fit) {
        // seven digits of the parameters, five of their standard deviations, out of eleven certified
        assertThat(fit.amplitude().value()).isCloseTo(2.3894212918e+02, withinPercentage(1e-5));
        assertThat(fit.rate().value()).isCloseTo(5.5015643181e-04, withinPercentage(1e-5));
        assertThat(fit.amplitude().standardUncertainty()).isCloseTo(2.7070075241, withinPercentage(1e-3));
        assertThat(fit.rate().standardUncertainty()).isCloseTo(7.2668688436e-06, withinPercentage(1e-3));
        assertThat(fit.residualSumOfSquares()).isCloseTo(1.2455138894e-01, withinPercentage(1e-7));
        assertThat(fit.correlation()).isCloseTo(-0.998776, within(5e-6));
    }

    private static void isBoxBod(ExponentialRise fit) {
        assertThat(fit.amplitude().value()).isCloseTo(2.1380940889e+02, withinPercentage(1e-5));
        assertThat(fit.rate().value()).isCloseTo(5.4723748542e-01, withinPercentage(1e-5));
        assertThat(fit.amplitude().standardUncertainty()).isCloseTo(1.2354515176e+01, withinPercentage(1e-3));
        assertThat(fit.rate().standardUncertainty()).isCloseTo(1.0455993237e-01, withinPercentage(1e-3));
        assertThat(fit.residualSumOfSquares()).isCloseTo(1.1680088766e+03, withinPercentage(1e-7));
    }

    @ParameterizedTest
    @CsvSource({"500, 0.0001", "250, 0.0005"})
    void misra1aFromBothStarts(double amplitude, double rate) {
        isMisra1a(valueOf(ExponentialRise.from(MISRA_X, MISRA_Y, amplitude, rate)));
    }

    @ParameterizedTest
    @CsvSource({"1, 1", "100, 0.75"})
    void boxBodFromBothStarts(double amplitude, double rate) {
        isBoxBod(valueOf(ExponentialRise.from(BOX_X, BOX_Y, amplitude, rate)));
    }

    @Test
    void bothFromAStartOfTheirOwn() {
        isMisra1a(valueOf(ExponentialRise.of(MISRA_X, MISRA_Y)));
        isBoxBod(valueOf(ExponentialRise.of(BOX_X, BOX_Y)));
    }

    @Test
    void pointsThatBendUpwardsHaveNoAsymptote() {
        double[] x = {1, 2, 3, 4, 5, 6};
        double[] y = {1, 4, 9, 16, 25, 36};
        assertThat(reasonOf(ExponentialRise.of(x, y))).isEqualTo(Reason.NOT_OBSERVABLE);
    }

    /** Certified to fifteen digits; ten are asked for. */
    @Test
    void norris() {
        LineFit fit = valueOf(LineFit.of(NORRIS_X, NORRIS_Y));
        assertThat(fit.intercept()).isCloseTo(-0.262323073774029, withinPercentage(1e-8));
        assertThat(fit.interceptSd()).isCloseTo(0.232818234301152, withinPercentage(1e-8));
        assertThat(fit.slope()).isCloseTo(1.00211681802045, withinPercentage(1e-8));
        assertThat(fit.slopeSd()).isCloseTo(0.429796848199937e-03, withinPercentage(1e-8));
        assertThat(fit.residualSd()).isCloseTo(0.884796396144373, withinPercentage(1e-8));
        assertThat(fit.residualSumOfSquares()).isCloseTo(26.6173985294224, withinPercentage(1e-8));
    }

    /** Computed independently; pairs at equal x skipped. */
    @Test
    void medianSlopeOfNorris() {
        assertThat(valueOf(TheilSen.of(NORRIS_X, NORRIS_Y, 0.95)).slope()).isCloseTo(1.002196837, within(5e-10));
    }
}
