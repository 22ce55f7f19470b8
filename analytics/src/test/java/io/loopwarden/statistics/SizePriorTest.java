package io.loopwarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.analysis.integration.RombergIntegrator;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SizePriorTest {

    /** Against Romberg's integration of the same integral, over ln t. */
    @ParameterizedTest
    @CsvSource({"-3, 1", "0, 1", "1, 1", "2, 0.3", "2.9, 1", "3.5, 0.5", "6, 0.1", "10, 1", "0, 0.01", "5, 20", "8, 100"
    })
    void bayesFactorIsTheIntegral(double z, double uncertainty) {
        double least = 0.03;
        double most = 3000;
        double byRomberg = new RombergIntegrator(1e-8, 1e-12, 5, 30)
                        .integrate(
                                10_000_000,
                                u -> {
                                    double t = Math.exp(u) / uncertainty;
                                    return Math.exp(z * t - t * t / 2);
                                },
                                Math.log(least),
                                Math.log(most))
                / Math.log(most / least);
        assertThat(new SizePrior(least, most).logBayesFactor(z, uncertainty))
                .isCloseTo(Math.log(byRomberg), within(0.12));
    }

    /** Far beyond what a double holds as a number, its logarithm is still known: about z²/2 at the peak, z·t − t²/2 at the edge. */
    @ParameterizedTest
    @CsvSource({"60, 0.0005, 1800", "60, 0.0003, 1000", "400, 1e-4, 80000", "-60, 0.0005, -5400"})
    void bayesFactorStaysFinite(double z, double uncertainty, double about) {
        assertThat(new SizePrior(0.03, 3000).logBayesFactor(z, uncertainty)).isCloseTo(about, within(15.0));
    }
}
