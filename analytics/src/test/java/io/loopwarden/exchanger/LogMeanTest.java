package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.statistics.Computed.Reason;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LogMeanTest {

    /** Computed independently to ten decimals; tolerance half the last. */
    @ParameterizedTest
    @CsvSource({
        "4,    4,         4.0000000000",
        "4,    4.0000001, 4.0000000500",
        "4,    4.001,     4.0004999792",
        "4,    5,         4.4814201177",
        "5,    4,         4.4814201177",
        "2,    8,         4.3280851227",
        "10,   1,         3.9086503371",
        "60,   10,        27.9055313276",
        "61.3, 30,        43.8018027254"
    })
    void logMean(double oneK, double otherK, double expectedK) {
        assertThat(valueOf(LogMean.differenceK(oneK, otherK))).isCloseTo(expectedK, within(5.1e-11));
        assertThat(LogMean.differenceK(otherK, oneK)).as("symmetry").isEqualTo(LogMean.differenceK(oneK, otherK));
    }

    @ParameterizedTest
    @CsvSource({"0, 4", "4, 0", "-0.2, 3", "3, -0.2", "NaN, 3", "3, NaN", "3, Infinity"})
    void crossedTemperaturesAreAReasonNotANumber(double oneK, double otherK) {
        assertThat(reasonOf(LogMean.differenceK(oneK, otherK))).isEqualTo(Reason.INPUT_IMPLAUSIBLE);
    }
}
