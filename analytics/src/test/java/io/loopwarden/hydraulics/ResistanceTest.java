package io.loopwarden.hydraulics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Filter loading normalised over flow and viscosity: worked cases, clean 15 kPa at 25 L/s of water at 40 °C, 40 % viscous. */
class ResistanceTest {

    private static final double MU = 0.6528e-3;
    private static final double RHO = 992.311;
    private static final Resistance CLEAN = Resistance.through(15_000, 0.4, 0.025, MU, RHO);

    @Test
    void partsFollowFromTheReferenceState() {
        assertThat(CLEAN.viscousPerM3()).isCloseTo(3.676471e8, within(1e2));
        assertThat(CLEAN.inertialPerM4()).isCloseTo(1.451158e4, within(1e-2));
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(textBlock = """
            # case,              L/s, mu Pa s,   rho,      clean Pa, measured Pa, K, normalised Pa
            clean at rated,      25,  0.6528e-3, 992.311,  15000,    15000.0,     1, 15000
            clean at low flow,   15,  0.6528e-3, 992.311,  6840,     6840.0,      1, 15000
            loaded at low flow,  15,  0.6528e-3, 992.311,  6840,     13680.0,     2, 30000
            """)
    void normalisedToRatedFlow(
            String name,
            double litres,
            double mu,
            double rho,
            double cleanPa,
            double measuredPa,
            double k,
            double atRated) {
        double flow = litres / 1000;
        assertThat(CLEAN.dpPa(flow, mu, rho)).isCloseTo(cleanPa, within(0.1));
        double ratio = CLEAN.ratio(measuredPa, flow, mu, rho);
        assertThat(ratio).isCloseTo(k, within(1e-6));
        assertThat(CLEAN.times(ratio).dpPa(0.025, MU, RHO)).isCloseTo(atRated, within(0.1));
    }

    /** Twice the viscosity doubles the viscous part only: a cold fill must not look like a loaded filter. */
    @Test
    void viscosityMovesTheViscousPartOnly() {
        assertThat(CLEAN.dpPa(0.025, 2 * MU, RHO)).isCloseTo(15_000 * (0.6 + 0.8), within(0.1));
        assertThat(CLEAN.ratio(21_000, 0.025, 2 * MU, RHO)).isCloseTo(1, within(1e-6));
    }

    @ParameterizedTest
    @CsvSource({"3.6e8, 1.4e4", "0, 1.4e4", "3.6e8, 0"})
    void flowIsTheInverseOfPressure(double a, double b) {
        Resistance resistance = new Resistance(a, b);
        double dp = resistance.dpPa(0.02, MU, RHO);
        assertThat(resistance.flowM3PerS(dp, MU, RHO)).isCloseTo(0.02, within(1e-12));
    }

    @Test
    void equalBranchesShareEvenly() {
        double dp = ParallelSplit.dpPa(List.of(CLEAN, CLEAN, CLEAN, CLEAN), 0.1, MU, RHO);
        assertThat(dp).isCloseTo(15_000, within(1e-6));
    }

    /** Inertial branches with resistances 1 and 4 carry 2 to 1: 1/√K. */
    @Test
    void aLoadedBranchShedsFlow() {
        Resistance clean = new Resistance(0, 1e4);
        Resistance loaded = clean.times(4);
        double dp = ParallelSplit.dpPa(List.of(clean, loaded), 0.03, MU, RHO);
        assertThat(clean.flowM3PerS(dp, MU, RHO)).isCloseTo(0.02, within(1e-9));
        assertThat(loaded.flowM3PerS(dp, MU, RHO)).isCloseTo(0.01, within(1e-9));
    }
}
