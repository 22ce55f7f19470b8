package io.loopwarden.hydraulics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Installed characteristic against hand-worked values of 1/√(1 − N + N/φ²). */
class ControlValveTest {

    @ParameterizedTest
    @CsvSource(textBlock = """
            # authority, inherent, flow
            0.5,         0.25,     0.34300
            0.5,         0.5,      0.63246
            0.5,         0.75,     0.84853
            0.1,         0.25,     0.63246
            0.1,         0.5,      0.87706
            1.0,         0.5,      0.5
            0.5,         1.0,      1.0
            """)
    void littleAuthorityMakesAValveAllButOpen(double authority, double inherent, double flow) {
        assertThat(ControlValve.installedFlowRatio(inherent, authority)).isCloseTo(flow, within(1e-5));
    }

    @Test
    void equalPercentageValveInTheMiddle() {
        double inherent = ControlValve.equalPercentage(50, 0.5);
        assertThat(inherent).isCloseTo(0.14142, within(1e-5));
        assertThat(ControlValve.installedFlowRatio(inherent, 0.3)).isCloseTo(0.25238, within(1e-5));
    }

    @Test
    void flowCoefficient() {
        assertThat(ControlValve.flowM3PerH(40, 40_000, 992.311)).isCloseTo(25.39604, within(1e-5));
        assertThat(ControlValve.authorityRatio(40_000, 60_000)).isCloseTo(0.4, within(1e-12));
    }
}
