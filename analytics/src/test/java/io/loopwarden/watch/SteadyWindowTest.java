package io.loopwarden.watch;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed.Reason;
import java.time.Duration;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What counts as steady, and what the sentence says of what does not. */
class SteadyWindowTest {

    @ParameterizedTest
    @CsvSource(textBlock = """
            # point, level, change per second, words
            tcs.return.temperature, 44,     0.01,     K between
            tcs.supply.temperature, 34,     0.01,     K between
            fws.supply.temperature, 30,    -0.01,     K between
            fws.return.temperature, 40,     0.01,     K between
            tcs.flow,               0.0242, 0.00002,  L/s between
            fws.flow,               0.0242, -0.00002, L/s between
            fws.valve.position,     0.5,    0.001,    % between
            """)
    void aPointThatDriftsIsNamedWithItsMovement(String name, double level, double perSecond, String words) {
        PointName point = PointName.of(name);
        Bench bench = new Bench();
        bench.run(500);
        bench.signal(point, t -> level + perSecond * (t - 500));
        bench.run(120);
        assertThat(bench.reason("ua")).isEqualTo(Reason.NOT_STEADY);
        assertThat(bench.detail("ua")).startsWith(name + " moved by ").contains(words, "counts as steady");
    }

    @Test
    void theMovementIsTheDriftOverTheShortestWindow() {
        Bench bench = new Bench();
        bench.signal(Points.FWS_SUPPLY_TEMPERATURE, t -> 30 - 0.01 * t);
        bench.run(600);
        assertThat(bench.detail("ua"))
                .startsWith(
                        "fws.supply.temperature moved by 1.2 K between 2026-11-25T10:08:00Z and 2026-11-25T10:10:00Z;"
                                + " up to 0.25 K counts as steady.");
    }

    @Test
    void aStepLeavesTheSteadyWindowAfterIt() {
        Bench bench = new Bench();
        bench.signal(Points.TCS_RETURN_TEMPERATURE, t -> (t < 600 ? 42 : 44) + bench.noise(0.02));
        bench.run(650);
        assertThat(bench.reason("ua")).isEqualTo(Reason.NOT_STEADY);
        bench.run(200);
        assertThat(Duration.between(
                        bench.result("ua").from(), bench.result("ua").to()))
                .isEqualTo(Duration.ofMinutes(4));
    }

    @Test
    void slowSwingsAreNotSteady() {
        Bench bench = new Bench();
        bench.signal(Points.FWS_VALVE_POSITION, t -> 0.6 + 0.05 * Math.sin(t * 2 * Math.PI / 90));
        bench.run(900);
        assertThat(bench.detail("ua")).startsWith("fws.valve.position moved by ");
    }

    @Test
    void aShortDipOfFlowIsNotSteady() {
        Bench bench = new Bench();
        bench.signal(Points.TCS_FLOW, t -> (t > 850 && t <= 860 ? 0.020 : 0.0242) + bench.noise(0.00005));
        bench.run(900);
        assertThat(bench.detail("ua")).startsWith("tcs.flow moved by ");
    }

    @Test
    void aSlowDriftBelowTheLimitIsSteady() {
        Bench bench = new Bench();
        bench.signal(Points.FWS_SUPPLY_TEMPERATURE, t -> 30 + 0.2 * t / 900);
        bench.run(900);
        assertThat(bench.figure("ua").isAvailable()).as(bench.detail("ua")).isTrue();
    }

    @ParameterizedTest(name = "resolution {0} K")
    @ValueSource(doubles = {0.01, 0.1, 0.25})
    void coarseResolutionIsSteady(double resolutionK) {
        Bench bench = new Bench();
        for (PointName point : new PointName[] {Points.TCS_RETURN_TEMPERATURE, Points.FWS_RETURN_TEMPERATURE}) {
            double level = point == Points.TCS_RETURN_TEMPERATURE ? 44.06 : 40.06;
            bench.signal(point, t -> Math.rint((level + bench.noise(0.02)) / resolutionK) * resolutionK);
        }
        bench.run(900);
        assertThat(bench.figure("ua").isAvailable()).as(bench.detail("ua")).isTrue();
    }

    @Test
    void constantSignalsAreSteadyAndFinite() {
        Bench bench = new Bench();
        bench.level(Points.TCS_RETURN_TEMPERATURE, 44, 0);
        bench.level(Points.TCS_FLOW, 0.0242, 0);
        bench.level(Points.FWS_VALVE_POSITION, 1, 0);
        bench.run(900);
        assertThat(bench.figure("ua").isAvailable()).as(bench.detail("ua")).isTrue();
    }

    /** White noise far above the limits is noise, not movement: at most a few of 200 windows may be called moving. */
    @Test
    void noiseAloneIsSteady() {
        int moving = 0;
        for (int seed = 0; seed < 200; seed++) {
            Random random = new Random(seed);
            PointWindow window = new PointWindow();
            for (int second = 0; second < 900; second++) {
                window.accept(Bench.START.plusSeconds(second), 44 + random.nextGaussian(), true);
            }
            long from = PointWindow.binOf(Bench.START);
            WindowStatistics s = WindowStatistics.of(window, from, from + PointWindow.WINDOW_BINS, 0);
            moving += Steadiness.movement(s, 0.25) > 0 ? 1 : 0;
        }
        assertThat(moving).isLessThanOrEqualTo(2);
    }

    @Test
    void pointsThatDoNotMoveHeatMayMove() {
        Bench bench = new Bench();
        bench.signal(Points.TCS_DP, t -> 200_000 + 100 * t);
        bench.signal(Points.FWS_DP, t -> 118_000 + 10 * t);
        bench.run(900);
        assertThat(bench.figure("ua").isAvailable()).as(bench.detail("ua")).isTrue();
    }
}
