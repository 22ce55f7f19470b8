package io.loopwarden.fluid;

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

class PropyleneGlycolTest {

    /** The same polynomial evaluated independently; tolerance half the last digit printed. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # mass fraction, t C, rho kg/m3, cp J/(kg K), mu mPa s, k W/(m K)
            0.00, 10, 999.97, 4197.4, 1.3210, 0.5810
            0.00, 20, 998.52, 4186.6, 1.0072, 0.5991
            0.00, 30, 995.99, 4180.4, 0.7967, 0.6155
            0.00, 40, 992.53, 4178.3, 0.6503, 0.6301
            0.00, 50, 988.24, 4179.5, 0.5450, 0.6429
            0.00, 60, 983.27, 4183.6, 0.4665, 0.6538
            0.20, 10, 1017.86, 3956.1, 2.8747, 0.4818
            0.20, 20, 1014.78, 3976.8, 2.0301, 0.4922
            0.20, 30, 1010.91, 3997.8, 1.5078, 0.5024
            0.20, 40, 1006.37, 4019.0, 1.1693, 0.5123
            0.20, 50, 1001.23, 4040.2, 0.9400, 0.5218
            0.20, 60, 995.59, 4061.2, 0.7778, 0.5310
            0.25, 10, 1022.94, 3896.3, 3.5581, 0.4587
            0.25, 20, 1019.28, 3920.5, 2.4452, 0.4679
            0.25, 30, 1014.90, 3944.6, 1.7761, 0.4769
            0.25, 40, 1009.91, 3968.6, 1.3530, 0.4858
            0.25, 50, 1004.38, 3992.4, 1.0726, 0.4946
            0.25, 60, 998.40, 4015.7, 0.8780, 0.5032
            0.30, 10, 1028.04, 3829.9, 4.4384, 0.4364
            0.30, 20, 1023.78, 3857.0, 2.9650, 0.4444
            0.30, 30, 1018.89, 3883.9, 2.1041, 0.4525
            0.30, 40, 1013.43, 3910.4, 1.5731, 0.4606
            0.30, 50, 1007.49, 3936.6, 1.2288, 0.4686
            0.30, 60, 1001.15, 3962.3, 0.9946, 0.4766
            """)
    void checkTable(double w, double t, double rho, double cp, double mu, double k) {
        FluidState s = PropyleneGlycol.state(w, t);
        assertThat(s.densityKgPerM3()).isCloseTo(rho, within(0.0051));
        assertThat(s.specificHeatJPerKgK()).isCloseTo(cp, within(0.051));
        assertThat(1e3 * s.viscosityPaS()).isCloseTo(mu, within(0.000051));
        assertThat(s.conductivityWPerMK()).isCloseTo(k, within(0.000051));
    }

    /** A revision of a well-known coefficient file stored this column in another form and gave 0.68 mPa s here. */
    @Test
    void viscosityInTheMiddleOfTheFit() {
        assertThat(1e3 * PropyleneGlycol.state(0.307031, 32.7083).viscosityPaS())
                .isCloseTo(1.9812, within(0.00005));
    }

    /** d(ln rho)/dt of the density polynomial, computed independently. */
    @ParameterizedTest
    @CsvSource({"10, 3.21", "20, 3.96", "30, 4.63", "40, 5.23", "50, 5.75", "60, 6.19"})
    void expansion(double temperatureC, double expansionPer10000K) {
        assertThat(1e4 * PropyleneGlycol.state(0.25, temperatureC).expansionPerK())
                .isCloseTo(expansionPer10000K, within(0.005));
    }

    @ParameterizedTest
    @CsvSource(textBlock = """
            # mass fraction, C, tolerance K, source
            0.15, -4.87,  0.005, freezing column of the coefficients
            0.20, -7.17,  0.005, freezing column of the coefficients
            0.25, -9.79,  0.005, freezing column of the coefficients
            0.30, -12.79, 0.005, freezing column of the coefficients
            0.40, -20.57, 0.005, freezing column of the coefficients
            0.50, -32.19, 0.005, freezing column of the coefficients
            0.20, -7.16,  0.4,   tabulated by Melinder; the fit strays by 0.3 K up to 40 %
            0.30, -13.08, 0.4,   tabulated by Melinder
            0.40, -20.79, 0.4,   tabulated by Melinder
            0.50, -33.10, 1.0,   tabulated by Melinder; the fit strays by 0.9 K
            """)
    void freezingPoint(double massFraction, double temperatureC, double toleranceK, String source) {
        assertThat(PropyleneGlycol.freezingPointC(massFraction)).as(source).isCloseTo(temperatureC, within(toleranceK));
    }

    /** ASHRAE handbook tables at 25 % by volume, interpolated: the second source lies within the stated limits. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # t C, rho, cp, mu mPa s, k
            10, 1027.6, 3886, 3.55, 0.457
            20, 1023.7, 3910, 2.49, 0.469
            30, 1019.2, 3934, 1.82, 0.479
            40, 1014.3, 3960, 1.39, 0.488
            50, 1008.8, 3984, 1.09, 0.495
            60, 1002.9, 4009, 0.89, 0.502
            """)
    void statedErrorsCoverTheSecondSource(double t, double rho, double cp, double mu, double k) {
        double w = valueOf(GlycolConcentration.massFraction(0.25));
        Coolant coolant = Coolant.of(new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, w));
        FluidState s = valueOf(coolant.stateAt(t));
        PropertyUncertainty u = coolant.uncertaintyAt(t);
        // a second source of equal standing: the distance of two has sqrt(2) of the uncertainty of one, taken twice
        double factor = 200 * Math.sqrt(2);
        assertThat(s.densityKgPerM3()).isCloseTo(rho, withinPercentage(factor * u.densityRatio()));
        assertThat(s.specificHeatJPerKgK()).isCloseTo(cp, withinPercentage(factor * u.specificHeatRatio()));
        assertThat(1e3 * s.viscosityPaS()).isCloseTo(mu, withinPercentage(factor * u.viscosityRatio()));
        assertThat(s.conductivityWPerMK()).isCloseTo(k, withinPercentage(factor * u.conductivityRatio()));
        assertThat(s.heatCapacityJPerM3K()).isCloseTo(rho * cp, withinPercentage(100 * u.heatCapacityRatio()));
    }

    @Test
    void errorsGrowBeyondTheTabulatedTemperatures() {
        Coolant coolant = Coolant.of(new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, 0.25));
        double at40 = coolant.uncertaintyAt(40).heatCapacityRatio();
        assertThat(coolant.uncertaintyAt(10).heatCapacityRatio()).isEqualTo(at40);
        assertThat(coolant.uncertaintyAt(90).heatCapacityRatio()).isCloseTo(2 * at40, withinPercentage(1e-9));
        assertThat(coolant.heatCapacityUncertaintyRatio()).isCloseTo(2 * at40, withinPercentage(1e-9));
    }

    @Test
    void frozenCoolantHasNoState() {
        Coolant coolant = Coolant.of(new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, 0.25));
        assertThat(coolant.stateAt(-9.7).isAvailable()).isTrue();
        assertThat(reasonOf(coolant.stateAt(-9.9))).isEqualTo(Reason.OUTSIDE_VALID_RANGE);
        assertThat(reasonOf(coolant.stateAt(Double.NaN))).isEqualTo(Reason.OUTSIDE_VALID_RANGE);
    }

    @Test
    void volumePercentOnTheLabelIsNotMassPercent() {
        assertThat(valueOf(GlycolConcentration.massFraction(0.25)))
                .as("pure components poured at 20 °C")
                .isCloseTo(0.2570, within(0.0002));
        assertThat(reasonOf(GlycolConcentration.massFraction(25))).isEqualTo(Reason.OUTSIDE_VALID_RANGE);
    }

    /** ASHRAE's volume to mass table: within 0.1 percentage points up to 25 %, drifting to 0.9 at 50 % by volume. */
    @ParameterizedTest
    @CsvSource({"19.4, 20", "24.4, 25", "25.3, 26", "29.4, 30", "34.4, 35", "39.6, 40", "44.7, 45", "49.9, 50"})
    void volumeToMass(double volumePercent, double massPercent) {
        assertThat(100 * valueOf(GlycolConcentration.massFraction(volumePercent / 100)))
                .isCloseTo(massPercent, within(1.0));
    }

    /** Treating a quarter of glycol as water overstates every duty by 3.4 %. */
    @Test
    void theCoolantSettingMatters() {
        double water = valueOf(Coolant.of(CoolantSpec.WATER).stateAt(40)).heatCapacityJPerM3K();
        double glycol = PropyleneGlycol.state(0.25, 40).heatCapacityJPerM3K();
        assertThat(water).isCloseTo(4.1459e6, within(100.0));
        assertThat(glycol).isCloseTo(4.0080e6, within(100.0));
    }
}
