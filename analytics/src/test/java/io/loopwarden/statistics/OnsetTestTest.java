package io.loopwarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.statistics.OnsetTest.Shape;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class OnsetTestTest {

    private static final double[] ONE = {1};

    /** A filter that learns nothing: innovations are the level itself, and the answer is ordinary least squares. */
    @Test
    void withoutLearningItIsLeastSquaresFromTheOnset() {
        OnsetTest test = new OnsetTest(Shape.RAMP, 1, 32);
        double[] gain = {0};
        double[] level = {-0.3, -1.1, -2.4, -2.9};
        for (double value : level) {
            test.accept(1, 1, ONE, gain, value, 0.25);
        }
        // ramp seen at the middle of each row: 0.5, 1.5, 2.5, 3.5
        double pull = 0.5 * 0.3 + 1.5 * 1.1 + 2.5 * 2.4 + 3.5 * 2.9;
        double squares = 0.25 + 2.25 + 6.25 + 12.25;
        assertThat(test.size(0)).isCloseTo(pull / squares, within(1e-12));
        assertThat(test.age(0)).isEqualTo(4);
        assertThat(test.rows(0)).isEqualTo(4);
        assertThat(test.size(3)).as("onset a row ago").isCloseTo(0.5 * 2.9 / 0.25, within(1e-12));
    }

    /** What the filter takes for its own state no longer shows: a steady filter sees a ramp as a constant offset. */
    @Test
    void aLossIsFoundAtItsRateThoughTheFilterFollows() {
        Random random = new Random(3);
        OnsetTest test = new OnsetTest(Shape.RAMP, 1, 48);
        double content = 0;
        double gain = 0.2;
        double lost = 0;
        double standardisedBefore = 0;
        for (int row = 0; row < 400; row++) {
            lost += row >= 300 ? 0.3 : 0;
            double observed = -lost + 0.15 + (row >= 300 ? 0 : -0.15) + random.nextGaussian();
            double innovation = observed - content;
            test.accept(1, 1, ONE, new double[] {gain}, innovation, 1.1);
            content += gain * innovation;
            if (row == 299) {
                standardisedBefore = largest(test);
            }
        }
        assertThat(standardisedBefore).isLessThan(4.5);
        int best = bestOnset(test);
        assertThat(test.standardised(best)).isGreaterThan(6);
        assertThat(test.size(best)).isCloseTo(0.3, within(0.06));
        assertThat(test.age(best)).isBetween(70.0, 130.0);
    }

    /** Onsets before the noise grew are the filter's to guard, by the variance it states. */
    @Test
    void noiseFarBeyondTheStatedVarianceIsNoChange() {
        Random random = new Random(11);
        List<Double> largest = new ArrayList<>();
        OnsetTest test = new OnsetTest(Shape.RAMP, 1, 48);
        for (int row = 0; row < 1000; row++) {
            test.accept(1, 1, ONE, new double[] {0.02}, 8 * random.nextGaussian(), 1);
            largest.add(largest(test));
        }
        largest.sort(null);
        assertThat(largest.get(500)).as("median").isLessThan(5);
    }

    @Test
    void onsetsAreKeptEverMoreSparselyAndNeverMoreThanThereIsRoomFor() {
        OnsetTest test = new OnsetTest(Shape.STEP, 1, 32);
        for (int row = 0; row < 5000; row++) {
            test.accept(1, 0, ONE, new double[] {0.1}, 0, 1);
        }
        assertThat(test.count()).isEqualTo(32);
        assertThat(test.age(0)).isEqualTo(5000);
        double spans = 0;
        for (int i = 0; i < test.count(); i++) {
            spans += test.span(i);
            if (i > 0 && test.age(i) > 30) {
                assertThat(test.age(i - 1) / test.age(i)).isLessThan(1.8);
            }
        }
        assertThat(spans).isCloseTo(5000, within(1.0));
        test.forgetOlderThan(100);
        assertThat(test.age(0)).isLessThanOrEqualTo(100);
    }

    private static double largest(OnsetTest test) {
        return test.standardised(bestOnset(test));
    }

    private static int bestOnset(OnsetTest test) {
        int best = 0;
        for (int i = 0; i < test.count(); i++) {
            boolean enough = test.rows(i) >= 3;
            best = enough && test.standardised(i) > test.standardised(best) ? i : best;
        }
        return best;
    }
}
