package io.loopwarden.fluid;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import com.hummeling.if97.IF97;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class IapwsTest {

    /** Tolerance 1e-8 relative: the release prints nine significant digits. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # T K, p Pa, v m3/kg, h J/kg, s J/(kg K), cp J/(kg K), w m/s, source
            300, 3e6,  1.00215168e-3,  115.331273e3, 392.294792,  4173.01218, 1507.73921, R7-97 table 5
            300, 80e6, 9.71180894e-4,  184.142828e3, 368.563852,  4010.08987, 1634.69054, R7-97 table 5
            500, 3e6,  1.20241800e-3,  975.542239e3, 2580.41912,  4655.80682, 1240.71337, R7-97 table 5
            """)
    void region1(double t, double p, double v, double h, double s, double cp, double w, String source) {
        IapwsRegion1.State state = IapwsRegion1.at(t, p);
        assertThat(1 / state.densityKgPerM3()).as(source).isCloseTo(v, withinPercentage(1e-6));
        assertThat(state.enthalpyJPerKg()).as(source).isCloseTo(h, withinPercentage(1e-6));
        assertThat(state.entropyJPerKgK()).as(source).isCloseTo(s, withinPercentage(1e-6));
        assertThat(state.specificHeatJPerKgK()).as(source).isCloseTo(cp, withinPercentage(1e-6));
        assertThat(state.soundSpeedMPerS()).as(source).isCloseTo(w, withinPercentage(1e-6));
    }

    /** Tolerance 1e-7 relative: half a unit of the last digit printed is 5e-10 to 1.4e-8. */
    @ParameterizedTest
    @CsvSource({
        "298.15, 998,  889.735100,  R12-08 table 4",
        "298.15, 1200, 1437.649467, R12-08 table 4",
        "373.15, 1000, 307.883622,  R12-08 table 4",
        "433.15, 1000, 217.685358,  R12-08 table 4",
        "873.15, 100,  35.802262,   R12-08 table 4"
    })
    void viscosity(double temperatureK, double densityKgPerM3, double microPaS, String source) {
        assertThat(1e6 * IapwsTransport.viscosityPaS(temperatureK, densityKgPerM3))
                .as(source)
                .isCloseTo(microPaS, withinPercentage(1e-5));
    }

    @ParameterizedTest
    @CsvSource({"298.15, 998, 607.712868, R15-11 table 4", "298.15, 1200, 799.038144, R15-11 table 4"})
    void conductivity(double temperatureK, double densityKgPerM3, double milliWPerMK, String source) {
        assertThat(1e3 * IapwsTransport.conductivityWPerMK(temperatureK, densityKgPerM3))
                .as(source)
                .isCloseTo(milliWPerMK, withinPercentage(1e-5));
    }

    /** A second implementation by other hands; it differs only by rounding in the same equation. */
    @ParameterizedTest
    @CsvSource({"2, 0.3e6", "4, 0.2e6", "20, 0.3e6", "41.7, 0.6e6", "65, 0.3e6", "90, 0.3e6"})
    void agreesWithAnIndependentImplementation(double temperatureC, double pressurePa) {
        IF97 oracle = new IF97(IF97.UnitSystem.SI);
        double temperatureK = temperatureC + 273.15;
        IapwsRegion1.State state = IapwsRegion1.at(temperatureK, pressurePa);
        assertThat(state.densityKgPerM3())
                .isCloseTo(1 / oracle.specificVolumePT(pressurePa, temperatureK), withinPercentage(1e-9));
        assertThat(state.specificHeatJPerKgK())
                .isCloseTo(oracle.isobaricHeatCapacityPT(pressurePa, temperatureK), withinPercentage(1e-9));
        assertThat(state.enthalpyJPerKg())
                .isCloseTo(oracle.specificEnthalpyPT(pressurePa, temperatureK), withinPercentage(1e-9));
    }
}
