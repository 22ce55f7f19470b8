package io.loopwarden.virtual.plant;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.fleet.CoolantSpec;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CoolantTest {

    /** Sources: IAPWS-95/R12-08/R15-11 at 0.3 MPa; ASHRAE Handbook tables at 20 and 30 % by volume = 20.6, 30.6 % by mass. */
    @ParameterizedTest(name = "{0} glycol at {1} °C")
    @CsvSource(textBlock = """
                    0,     20, 998.30,  4184.2, 1.0015e-3, 0.5981
                    0,     30, 995.74,  4179.5, 0.7972e-3, 0.6145
                    0,     40, 992.31,  4178.1, 0.6528e-3, 0.6286
                    0,     60, 983.30,  4182.3, 0.4661e-3, 0.6511
                    0.206, 20, 1019.01, 3973,   2.02e-3,   0.492
                    0.206, 40, 1010.16, 4016,   1.18e-3,   0.513
                    0.206, 60, 999.31,  4060,   0.78e-3,   0.529
                    0.306, 20, 1028.35, 3848,   3.06e-3,   0.445
                    0.306, 40, 1018.42, 3903,   1.63e-3,   0.462
                    0.306, 60, 1006.44, 3958,   1.01e-3,   0.475
                    """)
    void propertiesAreNearPublishedTables(
            double glycol, double t, double density, double heatCapacity, double viscosity, double conductivity) {
        Coolant coolant = new Coolant(
                glycol == 0 ? CoolantSpec.WATER : new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, glycol));
        assertThat(coolant.densityKgPerM3(t)).isCloseTo(density, withinPercentage(0.2));
        assertThat(coolant.heatCapacityJPerKgK(t)).isCloseTo(heatCapacity, withinPercentage(0.6));
        assertThat(coolant.viscosityPaS(t)).isCloseTo(viscosity, withinPercentage(6));
        assertThat(coolant.conductivityWPerMK(t)).isCloseTo(conductivity, withinPercentage(2));
    }
}
