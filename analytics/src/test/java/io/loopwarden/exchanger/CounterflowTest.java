package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.statistics.Computed.Reason;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class CounterflowTest {

    private static final double[] CAPACITY_RATIOS = {0, 0.25, 0.5, 0.75, 0.9, 1};

    /** Kays and London's counterflow table, recomputed independently to six digits; tolerance half the last one. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # NTU, then effectiveness at capacity ratio 0, 0.25, 0.5, 0.75, 0.9, 1
            0.25, 0.221199, 0.215670, 0.210296, 0.205073, 0.202012, 0.200000
            0.5, 0.393469, 0.377589, 0.362266, 0.347511, 0.338935, 0.333333
            1, 0.632121, 0.598286, 0.564733, 0.531857, 0.512601, 0.500000
            1.5, 0.776870, 0.735003, 0.690785, 0.645386, 0.618079, 0.600000
            2, 0.864665, 0.822766, 0.774600, 0.721827, 0.688864, 0.666667
            2.5, 0.917915, 0.880398, 0.832795, 0.776436, 0.739601, 0.714286
            3, 0.950213, 0.918811, 0.874425, 0.817118, 0.777708, 0.750000
            4, 0.981684, 0.962189, 0.927421, 0.872986, 0.831031, 0.800000
            5, 0.993262, 0.982257, 0.957201, 0.908771, 0.866439, 0.833333
            6, 0.997521, 0.991645, 0.974471, 0.933006, 0.891554, 0.857143
            8, 0.999665, 0.998140, 0.990758, 0.962344, 0.924559, 0.888889
            10, 0.999955, 0.999585, 0.996620, 0.978133, 0.945003, 0.909091
            """)
    void grid(double ntu, double e0, double e1, double e2, double e3, double e4, double e5) {
        double[] expected = {e0, e1, e2, e3, e4, e5};
        for (int i = 0; i < expected.length; i++) {
            double effectiveness = Counterflow.effectivenessRatio(ntu, CAPACITY_RATIOS[i]);
            assertThat(effectiveness).as("C = " + CAPACITY_RATIOS[i]).isCloseTo(expected[i], within(5.1e-7));
            assertThat(valueOf(Counterflow.ntu(effectiveness, CAPACITY_RATIOS[i])))
                    .as("inverse at C = " + CAPACITY_RATIOS[i])
                    .isCloseTo(ntu, withinPercentage(1e-8));
        }
    }

    /** A branch at equal capacity rates would show here as a step. */
    @ParameterizedTest
    @CsvSource({
        "3, 0.99,     0.7528089185, computed independently",
        "3, 0.999,    0.7502812148, computed independently",
        "3, 0.9999,   0.7500281246, computed independently",
        "3, 0.999999, 0.7500002813, computed independently",
        "3, 1,        0.75,         NTU / (1 + NTU)",
        "5, 0.7,      0.920670368605, documentation of an open heat transfer library",
        "0, 0.5,      0,            no exchanger",
        "700, 0.5,    1,            a very large one"
    })
    void equalCapacityRatesAreSmooth(double ntu, double capacityRatio, double expected, String source) {
        assertThat(Counterflow.effectivenessRatio(ntu, capacityRatio))
                .as(source)
                .isCloseTo(expected, within(1e-10));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 0.3, 0.9, 0.999999, 1})
    void slopeIsTheDerivative(double capacityRatio) {
        for (double ntu = 0.25; ntu < 8; ntu += 0.5) {
            double step = 1e-4;
            double numeric = (Counterflow.effectivenessRatio(ntu + step, capacityRatio)
                            - Counterflow.effectivenessRatio(ntu - step, capacityRatio))
                    / (2 * step);
            assertThat(Counterflow.effectivenessPerNtu(ntu, capacityRatio)).isCloseTo(numeric, within(1e-8));
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {1, 1.2, -0.01, Double.NaN, Double.POSITIVE_INFINITY})
    void impossibleEffectivenessIsAReasonNotANumber(double effectiveness) {
        assertThat(reasonOf(Counterflow.ntu(effectiveness, 0.8))).isEqualTo(Reason.INPUT_IMPLAUSIBLE);
    }

    @Test
    void argumentsThatNoExchangerHasAreRefused() {
        assertThatThrownBy(() -> Counterflow.effectivenessRatio(-1, 0.5)).hasMessageContaining("NTU is -1.0");
        assertThatThrownBy(() -> Counterflow.effectivenessRatio(1, 1.01))
                .hasMessageContaining("capacity ratio is 1.01");
        assertThatThrownBy(() -> Counterflow.ntu(0.5, Double.NaN)).hasMessageContaining("capacity ratio is NaN");
    }
}
