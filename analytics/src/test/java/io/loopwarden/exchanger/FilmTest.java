package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.fluid.FluidState;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FilmTest {

    private static final Coolant WATER = Coolant.of(CoolantSpec.WATER);
    private static final Coolant GLYCOL = Coolant.of(new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, 0.25));
    private static final FluidState WATER_40 = valueOf(WATER.stateAt(40));

    /** Property factors at equal flow, relative to water at 40 °C, computed independently from viscosities of four digits: 5e-5. */
    @ParameterizedTest
    @CsvSource({
        "0.70,  water,  30, 0.91771",
        "0.70,  water,  20, 0.83081",
        "0.70,  glycol, 40, 0.64155",
        "0.70,  glycol, 30, 0.57434",
        "0.663, water,  30, 0.92441",
        "0.663, glycol, 40, 0.65866"
    })
    void propertyFactor(double exponent, String coolant, double temperatureC, double expected) {
        FluidState state = valueOf((coolant.equals("water") ? WATER : GLYCOL).stateAt(temperatureC));
        assertThat(new Film(0.02, WATER_40).ratio(0.02, state, exponent)).isCloseTo(expected, within(5e-5));
    }

    /** Kumar's correlation, Nu = 0.348 Re^0.663 Pr^0.33 above Re 10 for β ≤ 30°, as an open library publishes it. */
    private static double kumar(double reynolds, double prandtl) {
        return 0.348 * Math.pow(reynolds, 0.663) * Math.pow(prandtl, 0.33);
    }

    @Test
    void hasTheFormOfAPublishedCorrelation() {
        assertThat(kumar(2000, 0.7)).as("library documentation").isCloseTo(47.757818892854, within(1e-9));
        double here = film(valueOf(GLYCOL.stateAt(30)), 0.015);
        double reference = film(WATER_40, 0.02);
        // Pr^0.33 beside Pr^(1/3): 0.4 % between Prandtl numbers 4 and 15
        assertThat(new Film(0.02, WATER_40).ratio(0.015, valueOf(GLYCOL.stateAt(30)), 0.663))
                .isCloseTo(here / reference, withinPercentage(0.5));
    }

    private static double film(FluidState s, double flow) {
        double reynolds = 1e5 * flow * s.densityKgPerM3() / s.viscosityPaS() * 1e-3;
        return kumar(reynolds, s.prandtl()) * s.conductivityWPerMK();
    }

    @Test
    void slopeWithTheExponent() {
        Film film = new Film(0.02, WATER_40);
        FluidState state = valueOf(GLYCOL.stateAt(30));
        double numeric = (Math.log(film.ratio(0.01, state, 0.71)) - Math.log(film.ratio(0.01, state, 0.69))) / 0.02;
        assertThat(film.logReynoldsRatio(0.01, state)).isCloseTo(numeric, within(1e-9));
    }
}
