package io.loopwarden.inventory;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fluid.Coolant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ExpansionTest {

    /** Litres of a loop of 2 m3, from IAPWS and Melinder densities; tolerance: our water is at 0.3 MPa, the tables' at 0.1. */
    @ParameterizedTest
    @CsvSource({
        "0,    20, 40, 12.064",
        "0,    20, 60, 30.509",
        "0,    35, 45, 7.707",
        "0,    42, 38, -3.0772",
        "0.25, 20, 40, 18.556"
    })
    void volumesAreThoseOfThePropertyTables(double glycol, double fromC, double toC, double litres) {
        CoolantSpec spec = glycol == 0 ? CoolantSpec.WATER : new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, glycol);
        double m3 = Expansion.volumeM3(Coolant.of(spec), 2, fromC, toC).fold(v -> v, gap -> Double.NaN);
        assertThat(1000 * m3).isCloseTo(litres, within(0.003 * Math.abs(litres)));
    }

    /** Worked case: 40 L of gas at 3.00 bar absolute, 2.0 L of liquid lost, 2.85714 bar. */
    @Test
    void aGasCushionFollowsBoyle() {
        assertThat(Expansion.cushionPressurePa(3e5, 0.040, 0.002)).isCloseTo(2.85714e5, within(1.0));
        assertThat(Expansion.lostFromCushionM3(0.040, 3e5, 2.857142857e5)).isCloseTo(0.002, within(1e-9));
    }
}
