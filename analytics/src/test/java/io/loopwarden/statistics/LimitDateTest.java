package io.loopwarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.statistics.Computed.Reason;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** A filter loaded 1.2 times at day 0 and 1.6 times at day 40 reaches 2.5 on day 130.0 along a line, 102.05 along an exponential (derived). */
class LimitDateTest {

    private static final int DAYS = 41;

    private static Computed<LimitDate> date(boolean exponential, double scatter) {
        Random random = new Random(11);
        double[] x = new double[DAYS];
        double[] y = new double[DAYS];
        for (int i = 0; i < DAYS; i++) {
            x[i] = i - 40;
            double clean = exponential ? 1.2 * Math.pow(1.6 / 1.2, i / 40.0) : 1.2 + 0.4 * i / 40.0;
            y[i] = clean + scatter * random.nextGaussian();
        }
        return LimitDate.of(x, y, 2.5, 0);
    }

    @Test
    void alongALine() {
        LimitDate date = date(false, 1e-4).fold(d -> d, gap -> null);
        assertThat(date.exponential()).isFalse();
        assertThat(date.days().value()).isCloseTo(90.0, within(0.3));
    }

    @Test
    void alongAnExponential() {
        LimitDate date = date(true, 1e-4).fold(d -> d, gap -> null);
        assertThat(date.exponential()).isTrue();
        assertThat(date.days().value()).isCloseTo(62.05, within(0.3));
    }

    @Test
    void scatterWidensTheInterval() {
        LimitDate date = date(false, 0.02).fold(d -> d, gap -> null);
        assertThat(date.days().lower95()).isLessThan(90);
        assertThat(date.days().upper95()).isGreaterThan(90);
    }

    @Test
    void whatDoesNotGrowHasNoDate() {
        Random random = new Random(12);
        double[] x = new double[DAYS];
        double[] y = new double[DAYS];
        for (int i = 0; i < DAYS; i++) {
            x[i] = i - 40;
            y[i] = 1.2 + 0.01 * random.nextGaussian();
        }
        assertThat(LimitDate.of(x, y, 2.5, 0).<Reason>fold(d -> null, gap -> gap.reason()))
                .isEqualTo(Reason.NOT_OBSERVABLE);
    }
}
