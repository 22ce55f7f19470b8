package io.loopwarden.statistics;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Crossing.Form;
import io.loopwarden.statistics.Crossing.Question;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CrossingTest {

    /** Fouling of 14 days scattered about 4·(1 - exp(-t/90)), in 1e-5 m2 K/W; fitted independently as well. */
    private static final double[] DAYS = {0, 7, 14, 21, 28, 42, 56, 70, 84, 98, 119, 140, 161, 182};

    private static final double[] FOULING = {
        0.020, 0.249, 0.616, 0.892, 0.999, 1.522, 1.833, 2.242, 2.367, 2.664, 2.984, 3.116, 3.301, 3.491
    };

    private static final ExponentialRise KERN_SEATON =
            new ExponentialRise(new Estimate(4.0e-5, 0), new Estimate(1.0 / 90, 0), 0, 0, 0);

    @ParameterizedTest
    @CsvSource({
        "0, 0",
        "10, 0.420643",
        "30, 1.133875",
        "60, 1.946332",
        "90, 2.528482",
        "180, 3.458659",
        "270, 3.800852",
        "365, 3.930697"
    })
    void asymptoticGrowth(double days, double expected) {
        assertThat(1e5 * KERN_SEATON.at(days)).isCloseTo(expected, within(5.1e-7));
    }

    @Test
    void timeToALimitOrNever() {
        assertThat(KERN_SEATON.xAt(3.0e-5).orElseThrow()).isCloseTo(124.7665, within(5e-5));
        assertThat(KERN_SEATON.xAt(3.9e-5).orElseThrow()).isCloseTo(331.999, within(5e-4));
        assertThat(KERN_SEATON.xAt(4.0e-5)).isEmpty();
        double chord = KERN_SEATON.at(30) / 30;
        assertThat(3.0e-5 / chord).as("the chord of 30 days is early").isCloseTo(79.37, within(0.005));
    }

    @Test
    void asymptoticFit() {
        ExponentialRise fit = valueOf(ExponentialRise.of(DAYS, FOULING));
        assertThat(fit.amplitude().value()).isCloseTo(3.97467, withinPercentage(0.001));
        assertThat(1 / fit.rate().value()).isCloseTo(88.7298, withinPercentage(0.001));
        assertThat(fit.amplitude().standardUncertainty()).isCloseTo(0.07824, withinPercentage(0.1));
        assertThat(fit.rate().standardUncertainty() / Math.pow(fit.rate().value(), 2))
                .as("of the time constant")
                .isCloseTo(3.4463, withinPercentage(0.1));
        // with the time constant the amplitude rises, with the rate it falls
        assertThat(fit.correlation()).isCloseTo(-0.95170, within(5e-5));
        assertThat(fit.residualSumOfSquares()).isCloseTo(0.029504, within(5e-7));
        assertThat(fit.xAt(3.0).orElseThrow()).isCloseTo(124.718, within(0.001));
    }

    @Test
    void lineThroughTheFirstFiveDays() {
        LineFit line = valueOf(LineFit.of(Arrays.copyOf(DAYS, 5), Arrays.copyOf(FOULING, 5)));
        assertThat(line.intercept()).isCloseTo(0.035, within(5e-6));
        assertThat(line.slope()).isCloseTo(0.037157, within(5e-7));
        assertThat(line.residualSd()).isCloseTo(0.07696, within(5e-6));
        assertThat(line.slopeSd()).isCloseTo(0.003477, within(5e-7));
    }

    private static double[] constant(int length, double value) {
        double[] values = new double[length];
        Arrays.fill(values, value);
        return values;
    }

    private static double criterion(Crossing c, Form form) {
        return c.candidates().stream()
                .filter(candidate -> candidate.form() == form)
                .findFirst()
                .orElseThrow()
                .criterion();
    }

    /**
     * Akaike's criterion: -28.470 for the line, -80.272 for the asymptote, computed independently; the correction for 14 points
     * and three parameters is 2·3·4/10.
     */
    @Test
    void bendingGrowthIsForecastWithItsAsymptote() {
        Crossing c = valueOf(Crossing.forecast(DAYS, FOULING, new Question(3.0, 2000, 1)));
        assertThat(c.preferred()).isEqualTo(Form.ASYMPTOTIC);
        assertThat(criterion(c, Form.LINEAR)).isCloseTo(-28.470 + 2.4, within(5e-4));
        assertThat(criterion(c, Form.ASYMPTOTIC)).isCloseTo(-80.272 + 2.4, within(5e-4));
        assertThat(c.candidates().stream()
                        .mapToDouble(Crossing.Candidate::weight)
                        .sum())
                .isCloseTo(1, within(1e-12));
        assertThat(c.median().x().orElseThrow()).isCloseTo(124.7, within(1.5));
        assertThat(c.lower95().x().orElseThrow()).isLessThan(124.7665);
        assertThat(c.upper95().x().orElseThrow()).isGreaterThan(124.7665);
    }

    @Test
    void aLimitAboveTheAsymptoteIsNeverReached() {
        Crossing c = valueOf(Crossing.forecast(DAYS, FOULING, new Question(4.6, 2000, 1)));
        assertThat(c.median().x()).isEmpty();
        assertThat(c.upper95().x()).isEmpty();
    }

    /** Before the bend shows, the line stands in; its band reaches from early to late. */
    @Test
    void earlyGrowthIsForecastByALine() {
        double[] x = {0, 4, 8, 12, 16, 20, 24, 28};
        double[] y = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            y[i] = 1e5 * KERN_SEATON.at(x[i]) + (i % 2 == 0 ? 0.1 : -0.1);
        }
        Crossing c = valueOf(Crossing.forecast(x, y, new Question(3.0, 2000, 1, List.of(constant(x.length, 0.1)))));
        assertThat(c.preferred()).isEqualTo(Form.LINEAR);
        assertThat(c.lower95().x().orElseThrow())
                .isLessThan(c.lower80().x().orElseThrow())
                .isLessThan(c.median().x().orElseThrow());
    }

    @Test
    void flatSeriesNeverCrosses() {
        double[] x = new double[30];
        double[] y = new double[30];
        for (int i = 0; i < 30; i++) {
            x[i] = i;
            y[i] = 1 - 0.01 * i + 0.02 * (i % 3);
        }
        Crossing c = valueOf(Crossing.forecast(x, y, new Question(2, 1000, 1)));
        assertThat(c.lower95().x()).isEmpty();
        assertThat(reasonOf(Crossing.forecast(Arrays.copyOf(x, 6), Arrays.copyOf(y, 6), new Question(2, 1000, 1))))
                .isEqualTo(Reason.INPUT_MISSING);
    }

    @Test
    void theSameSeedGivesTheSameAnswer() {
        Question q = new Question(3.0, 2000, 42, List.of(constant(DAYS.length, 0.05)));
        assertThat(Crossing.forecast(DAYS, FOULING, q)).isEqualTo(Crossing.forecast(DAYS, FOULING, q));
    }

    /**
     * Straight growths of 40 noisy days with neighbours alike (correlation 0.3). Over 1000 of them the 80 % intervals hold
     * 76 % of the true crossings; the bounds here are three binomial deviations of 200 about that, cut at 85.
     */
    @Test
    void intervalsHoldTrueCrossings() {
        Random random = new Random(12);
        int holds = 0;
        int series = 200;
        for (int k = 0; k < series; k++) {
            double[] x = new double[40];
            double[] y = new double[40];
            double slope = 0.01 + 0.02 * random.nextDouble();
            double shared = 0.05 * random.nextGaussian();
            double noise = 0;
            for (int i = 0; i < x.length; i++) {
                noise = 0.3 * noise + 0.08 * random.nextGaussian();
                x[i] = i;
                y[i] = 0.2 + slope * i + shared + noise;
            }
            double truth = (2 - 0.2) / slope;
            Crossing c = valueOf(Crossing.forecast(x, y, new Question(2, 2000, k, List.of(constant(x.length, 0.05)))));
            boolean after = c.lower80().x().orElse(2000) <= truth;
            boolean before = truth <= c.upper80().x().orElse(2000);
            holds += after && before ? 1 : 0;
        }
        assertThat(100.0 * holds / series).isBetween(67.0, 85.0);
    }

    @Test
    void thinningKeepsTheNewest() {
        assertThat(Series.thinned(new double[] {1, 2, 3, 4, 5}, 3)).containsExactly(1, 3, 5);
        assertThat(Series.thinned(new double[] {1, 2, 3, 4}, 3)).containsExactly(2, 4);
        assertThat(Series.thinned(new double[] {1, 2, 3}, 3)).containsExactly(1, 2, 3);
    }
}
