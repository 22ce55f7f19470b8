package io.loopwarden.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class LoopTraceTest {

    private static final long END_S = 1_800_000_000L;
    private static final int HOUR_S = 3600;

    private final Random random = new Random(31);

    private static HourTrace trace(DoubleUnaryOperator value) {
        HourTrace trace = new HourTrace();
        for (long s = END_S - HOUR_S; s < END_S; s++) {
            trace.accept(s, 0, value.applyAsDouble(s - (END_S - HOUR_S)));
        }
        return trace;
    }

    private static ControlState state(HourTrace valve, HourTrace command, HourTrace speed) {
        LoopTrace loop = new LoopTrace(
                Optional.of(valve),
                Optional.ofNullable(command),
                List.of(speed),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty());
        return ControlState.UNSEEN.next(loop, END_S, true);
    }

    private HourTrace still(double value) {
        return trace(t -> value + 0.0003 * random.nextGaussian());
    }

    @ParameterizedTest
    @ValueSource(doubles = {25, 60, 150, 400, 600})
    void aSwingIsFoundWithItsPeriodAndAmplitude(double periodS) {
        HourTrace valve = trace(t -> 0.6 + 0.03 * Math.sin(2 * Math.PI * t / periodS) + 0.003 * random.nextGaussian());
        ControlState state = state(valve, null, still(0.8));
        Oscillation found = state.valve().orElseThrow();
        assertThat(found.periodS()).isCloseTo(periodS, within(0.05 * periodS));
        assertThat(found.amplitude()).isCloseTo(0.03, within(0.004));
        assertThat(state.speed()).isEmpty();
        assertThat(state.driver()).isEqualTo("the facility valve's loop alone");
    }

    @Test
    void noiseRampsAndSingleMovesAreNoSwing() {
        double[] walk = new double[HOUR_S];
        for (int i = 1; i < HOUR_S; i++) {
            walk[i] = walk[i - 1] + 0.001 * random.nextGaussian();
        }
        for (DoubleUnaryOperator move : List.<DoubleUnaryOperator>of(
                t -> 0.6 + 0.02 * random.nextGaussian(),
                t -> 0.3 + 0.4 * t / HOUR_S,
                t -> t < 1800 ? 0.4 : 0.6,
                t -> 0.5 + walk[(int) t])) {
            assertThat(state(trace(move), null, still(0.8)).hunts()).isFalse();
        }
    }

    @Test
    void aStickingStemIsToldFromTightTuning() {
        HourTrace command = trace(t -> 0.6 + 0.05 * triangle(t, 200));
        HourTrace sticking = trace(t -> 0.6 + (triangle(t, 200) > 0 ? 0.04 : -0.04));
        ControlState state = state(sticking, command, still(0.8));
        assertThat(state.stickBand().orElseThrow()).isGreaterThan(0.012);
        assertThat(state.driver()).startsWith("the facility valve, whose stem sticks");
        ControlState following = state(command, command, still(0.8));
        assertThat(following.stickBand()).isEmpty();
    }

    private static double triangle(double t, double periodS) {
        double phase = t / periodS - Math.floor(t / periodS);
        return phase < 0.5 ? 4 * phase - 1 : 3 - 4 * phase;
    }

    @Test
    void theOrderOfSamplesDoesNotMatter() {
        HourTrace forwards = trace(t -> Math.sin(t / 17));
        HourTrace backwards = new HourTrace();
        for (long s = END_S - 1; s >= END_S - HOUR_S; s--) {
            backwards.accept(s, 0, Math.sin((s - (END_S - HOUR_S)) / 17.0));
        }
        assertThat(backwards.series(END_S, 720).orElseThrow())
                .isEqualTo(forwards.series(END_S, 720).orElseThrow());
    }
}
