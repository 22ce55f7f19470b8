package io.loopwarden.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.stat.descriptive.DescriptiveStatistics;
import org.hipparchus.stat.regression.SimpleRegression;
import org.junit.jupiter.api.Test;

/** The running sums against a general statistics library. */
class WindowStatisticsTest {

    private static final long FROM = PointWindow.binOf(Bench.START);

    @Test
    void meanScatterAndSlopeAgreeWithALibrary() {
        double[] bins = {44.02, 44.05, 43.97, 44.11, 44.08, 44.16, 44.09, 44.21};
        WindowStatistics s = WindowStatistics.of(filled(bins), FROM, FROM + bins.length, 0);
        DescriptiveStatistics moments = new DescriptiveStatistics(bins);
        SimpleRegression line = new SimpleRegression();
        for (int i = 0; i < bins.length; i++) {
            line.addData(i, bins[i]);
        }
        assertThat(s.mean()).isCloseTo(moments.getMean(), within(1e-12));
        assertThat(s.deviation()).isCloseTo(moments.getStandardDeviation(), within(1e-12));
        assertThat(s.range()).isCloseTo(moments.getMax() - moments.getMin(), within(1e-12));
        assertThat(s.drift()).isCloseTo(line.getSlope() * bins.length, within(1e-10));
        assertThat(s.driftSignificance()).isCloseTo(line.getSlope() / line.getSlopeStdErr(), within(1e-8));
    }

    @Test
    void ratioOfVariancesByHand() {
        // 1, 2, 4: variance 7/3; successive squares 1 and 4, half their mean 1.25; ratio 28/15.
        WindowStatistics s = WindowStatistics.of(filled(1, 2, 4), FROM, FROM + 3, 0);
        assertThat(s.ratioOfVariances()).isCloseTo(28.0 / 15, within(1e-12));
    }

    @Test
    void anEmptyBinIsHeldForSoLongAndNoLonger() {
        PointWindow window = new PointWindow();
        window.accept(Bench.START, 5, true);
        WindowStatistics s = WindowStatistics.of(window, FROM, FROM + 10, 3);
        assertThat(s.present()).isEqualTo(4);
        assertThat(s.onlyBeginning()).isFalse();
    }

    @Test
    void aValueShortlyBeforeTheWindowIsHeldIntoIt() {
        PointWindow window = new PointWindow();
        window.accept(Bench.START, 5, true);
        WindowStatistics s = WindowStatistics.of(window, FROM + 2, FROM + 5, 3);
        assertThat(s.present()).isEqualTo(2);
        assertThat(s.mean()).isEqualTo(5);
    }

    @Test
    void anEmptyWindowIsEmptyAndFinite() {
        WindowStatistics s = WindowStatistics.of(new PointWindow(), FROM, FROM + 12, 6);
        assertThat(s.present()).isZero();
        assertThat(s.meanUncertainty()).isZero();
        assertThat(Steadiness.movement(s, 0.25)).isZero();
    }

    private static PointWindow filled(double... bins) {
        PointWindow window = new PointWindow();
        for (int i = 0; i < bins.length; i++) {
            window.accept(Bench.START.plusSeconds(10L * i + 3), bins[i], true);
        }
        return window;
    }
}
