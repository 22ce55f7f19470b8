package io.loopwarden.fluid;

import static io.loopwarden.statistics.Values.detailOf;
import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.statistics.Computed.Reason;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class WaterTest {

    private static final Coolant WATER = Coolant.of(CoolantSpec.WATER);

    /** Check table at 0.3 MPa, computed with an independent IAPWS implementation; tolerance half its last digit. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # t C, rho kg/m3, cp J/(kg K), mu mPa s, k W/(m K), beta 1e-4/K, Pr, h kJ/kg
            5, 1000.065, 4204.1, 1.5179, 0.56793, 0.1691, 11.236, 21.317
            10, 999.796, 4194.7, 1.3057, 0.57891, 0.8862, 9.461, 42.312
            15, 999.194, 4188.4, 1.1375, 0.58892, 1.5125, 8.090, 63.269
            20, 998.297, 4184.2, 1.0015, 0.59813, 2.0691, 7.006, 84.200
            25, 997.137, 4181.3, 0.8900, 0.60663, 2.5714, 6.134, 105.113
            30, 995.740, 4179.5, 0.7972, 0.61450, 3.0305, 5.422, 126.015
            35, 994.126, 4178.4, 0.7191, 0.62181, 3.4546, 4.832, 146.909
            40, 992.311, 4178.1, 0.6528, 0.62860, 3.8501, 4.339, 167.800
            45, 990.310, 4178.3, 0.5958, 0.63490, 4.2219, 3.921, 188.691
            50, 988.134, 4179.1, 0.5466, 0.64074, 4.5738, 3.565, 209.584
            55, 985.793, 4180.4, 0.5037, 0.64614, 4.9091, 3.259, 230.483
            60, 983.297, 4182.3, 0.4661, 0.65112, 5.2303, 2.994, 251.390
            65, 980.653, 4184.7, 0.4330, 0.65570, 5.5397, 2.763, 272.307
            70, 977.867, 4187.7, 0.4036, 0.65988, 5.8391, 2.561, 293.238
            75, 974.945, 4191.1, 0.3775, 0.66368, 6.1301, 2.384, 314.184
            80, 971.892, 4195.1, 0.3541, 0.66712, 6.4143, 2.227, 335.150
            85, 968.712, 4199.6, 0.3331, 0.67019, 6.6929, 2.088, 356.136
            90, 965.409, 4204.6, 0.3142, 0.67291, 6.9671, 1.963, 377.146
            """)
    void checkTable(double t, double rho, double cp, double mu, double k, double beta, double pr, double h) {
        FluidState s = valueOf(WATER.stateAt(t));
        assertThat(s.densityKgPerM3()).isCloseTo(rho, within(0.00051));
        assertThat(s.specificHeatJPerKgK()).isCloseTo(cp, within(0.051));
        assertThat(1e3 * s.viscosityPaS()).isCloseTo(mu, within(0.000051));
        assertThat(s.conductivityWPerMK()).isCloseTo(k, within(0.0000051));
        assertThat(1e4 * s.expansionPerK()).isCloseTo(beta, within(0.000051));
        assertThat(s.prandtl()).isCloseTo(pr, within(0.00051));
        assertThat(1e-3 * valueOf(WATER.enthalpyJPerKg(t))).isCloseTo(h, within(0.00051));
    }

    /** One pressure for all loops costs less than the limits that the class states. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # t C, rho at 0.2 MPa, rho at 0.6 MPa, cp at 0.2 MPa, cp at 0.6 MPa
            5, 1000.015, 1000.212, 4204.5, 4202.8
            25, 997.092, 997.272, 4181.6, 4180.5
            45, 990.266, 990.440, 4178.5, 4177.6
            65, 980.609, 980.784, 4184.9, 4184.1
            90, 965.364, 965.546, 4204.8, 4203.9
            """)
    void pressureMayBeIgnored(double t, double rhoLow, double rhoHigh, double cpLow, double cpHigh) {
        assertThat(Water.state(t, 0.2e6).densityKgPerM3()).isCloseTo(rhoLow, within(0.00051));
        assertThat(Water.state(t, 0.6e6).densityKgPerM3()).isCloseTo(rhoHigh, within(0.00051));
        assertThat(Water.state(t, 0.2e6).specificHeatJPerKgK()).isCloseTo(cpLow, within(0.051));
        assertThat(Water.state(t, 0.6e6).specificHeatJPerKgK()).isCloseTo(cpHigh, within(0.051));
        FluidState used = valueOf(WATER.stateAt(t));
        assertThat(rhoHigh).isCloseTo(used.densityKgPerM3(), withinPercentage(0.02));
        assertThat(cpHigh).isCloseTo(used.specificHeatJPerKgK(), withinPercentage(0.04));
    }

    @ParameterizedTest
    @ValueSource(doubles = {1.999, 90.001, -300, Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void outsideItsRangeThereIsAReasonAndNoNumber(double temperatureC) {
        assertThat(reasonOf(WATER.stateAt(temperatureC))).isEqualTo(Reason.OUTSIDE_VALID_RANGE);
        assertThat(detailOf(WATER.enthalpyJPerKg(temperatureC))).contains(temperatureC + " °C", "2.0 to 90.0 °C");
    }

    @ParameterizedTest
    @ValueSource(doubles = {2, 90})
    void theLimitsThemselvesAreInRange(double temperatureC) {
        assertThat(WATER.stateAt(temperatureC).isAvailable()).isTrue();
    }

    /** 0.1 to 0.2 %: density plays no part beside the ±0.2 % of the specific heat. */
    @Test
    void heatCapacityErrorIsThatOfTheSpecificHeat() {
        assertThat(WATER.heatCapacityUncertaintyRatio()).isBetween(0.001, 0.002);
    }
}
