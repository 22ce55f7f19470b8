package io.loopwarden.statistics;

import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.statistics.GaussianBelief.Observation;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class GaussianBeliefTest {

    /** Two equal opinions of one number: the middle, and the uncertainty over root two. */
    @Test
    void equalOpinionsMeetInTheMiddle() {
        GaussianBelief prior = new GaussianBelief(List.of(10.0), Covariance.independent(2));
        GaussianBelief after = valueOf(prior.after(List.of(new Observation(new double[] {1}, 14, 4))));
        assertThat(after.mean().get(0)).isCloseTo(12, within(1e-12));
        assertThat(after.covariance().standardUncertainty(0)).isCloseTo(Math.sqrt(2), within(1e-12));
    }

    /** With a vague prior it is least squares: the straight line of the same points. */
    @Test
    void vaguePriorGivesLeastSquares() {
        double[] x = {0, 1, 2, 3, 4, 5};
        double[] y = {1.1, 2.9, 5.2, 7.1, 8.8, 11.2};
        LineFit line = valueOf(LineFit.of(x, y));
        double variance = line.residualSd() * line.residualSd();
        List<Observation> points = new ArrayList<>();
        for (int i = 0; i < x.length; i++) {
            points.add(new Observation(new double[] {1, x[i]}, y[i], variance));
        }
        GaussianBelief after =
                valueOf(new GaussianBelief(List.of(0.0, 0.0), Covariance.independent(1e4, 1e4)).after(points));
        assertThat(after.mean().get(0)).isCloseTo(line.intercept(), within(1e-6));
        assertThat(after.mean().get(1)).isCloseTo(line.slope(), within(1e-6));
        assertThat(after.covariance().standardUncertainty(0)).isCloseTo(line.interceptSd(), withinPercentage(1e-4));
        assertThat(after.covariance().standardUncertainty(1)).isCloseTo(line.slopeSd(), withinPercentage(1e-4));
    }

    @Test
    void directionsNobodyObservedStayAsUncertainAsBefore() {
        GaussianBelief prior = new GaussianBelief(List.of(1.0, 1.0), Covariance.independent(0.5, 0.5));
        GaussianBelief after = valueOf(prior.after(List.of(new Observation(new double[] {1, 1}, 2.5, 1e-6))));
        assertThat(after.estimate(new double[] {1, -1}).standardUncertainty()).isCloseTo(Math.sqrt(0.5), within(1e-9));
        assertThat(after.estimate(new double[] {1, 1}).value()).isCloseTo(2.5, within(1e-5));
        assertThat(after.estimate(new double[] {1, 1}).standardUncertainty()).isCloseTo(1e-3, withinPercentage(1));
    }

    @Test
    void aParameterKnownForCertainDoesNotMove() {
        GaussianBelief prior = new GaussianBelief(List.of(3.0, 0.0), Covariance.independent(0, 1));
        GaussianBelief after = valueOf(prior.after(List.of(new Observation(new double[] {1, 1}, 5, 1e-6))));
        assertThat(after.mean().get(0)).isEqualTo(3.0);
        assertThat(after.mean().get(1)).isCloseTo(2, within(1e-5));
    }
}
