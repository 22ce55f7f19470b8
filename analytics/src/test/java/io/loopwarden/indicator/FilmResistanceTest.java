package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fluid.Coolant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FilmResistanceTest {

    /** Factor on the film coefficient against water at 40 °C, computed from IAPWS and Melinder tables printed to four digits. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            WATER, 30, 0.70,  0.91771
            WATER, 20, 0.70,  0.83081
            PG25,  40, 0.70,  0.64155
            PG25,  30, 0.70,  0.57434
            WATER, 30, 0.663, 0.92441
            PG25,  40, 0.663, 0.65866
            """)
    void coefficientOfAFluidAgainstWaterAt40(String coolant, double temperatureC, double exponent, double factor) {
        FilmResistance reference = film(CoolantSpec.WATER, 40);
        FilmResistance fluid = film(coolant.equals("PG25") ? Rig.PG25 : CoolantSpec.WATER, temperatureC);
        assertThat(reference.relative(0.02, exponent) / fluid.relative(0.02, exponent))
                .isCloseTo(factor, within(2e-4));
    }

    @Test
    void resistanceFallsWithFlowToTheExponent() {
        FilmResistance film = film(CoolantSpec.WATER, 40);
        assertThat(film.relative(0.04, 0.7) / film.relative(0.02, 0.7)).isCloseTo(Math.pow(2, -0.7), within(1e-12));
    }

    private static FilmResistance film(CoolantSpec spec, double temperatureC) {
        return FilmResistance.of(Rig.value(Coolant.of(spec).stateAt(temperatureC)));
    }
}
