package io.loopwarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Hägglund's loads and Thornhill's regularity on worked cases; noise by a published congruential generator, so they can be repeated. */
class OscillationTest {

    private static final double PERIOD_S = 120;
    private static final double STEP_S = 5;

    private static double[] sine(double amplitude, double seconds) {
        double[] error = new double[(int) (seconds / STEP_S) + 1];
        for (int i = 0; i < error.length; i++) {
            error[i] = amplitude * Math.sin(2 * Math.PI * (i + 0.5) * STEP_S / PERIOD_S);
        }
        return error;
    }

    /** Half a period of a sine holds A·P/π, 57.296 K·s for 1.5 K; trapezoids of 5 s find 0.57 % less. */
    @Test
    void integralOfAHalfPeriod() {
        double[] half = new double[13];
        for (int i = 0; i < half.length; i++) {
            half[i] = 1.5 * Math.sin(Math.PI * i / 12);
        }
        assertThat(LoadCount.of(half, STEP_S, 10).largest()).isCloseTo(56.96816, within(1e-5));
    }

    @ParameterizedTest
    @CsvSource({"1.5, 20, true", "0.2, 0, false"})
    void aLoopThatSwingsWidelyOscillates(double amplitude, int loads, boolean oscillates) {
        double limit = LoadCount.limit(0.5, 60);
        assertThat(limit).isCloseTo(9.54930, within(1e-5));
        LoadCount count = LoadCount.of(sine(amplitude, 1200), STEP_S, limit);
        assertThat(count.loads()).isBetween(loads == 0 ? 0 : loads - 1, loads);
        assertThat(count.oscillates()).isEqualTo(oscillates);
    }

    @Test
    void anOffsetThatNeverCrossesIsOneLoadAndNoOscillation() {
        double[] offset = new double[240];
        Arrays.fill(offset, 1);
        assertThat(LoadCount.of(offset, STEP_S, 10).loads()).isEqualTo(1);
    }

    private static double[] signal(DoubleUnaryOperator clean, double noise) {
        double[] signal = new double[480];
        long state = 12345;
        for (int k = 0; k < signal.length; k++) {
            state = (1103515245L * state + 12345) % (1L << 31);
            signal[k] = clean.applyAsDouble(k) + noise * (state / (double) (1L << 31) - 0.5);
        }
        return signal;
    }

    @Test
    void aSineInNoiseIsRegular() {
        Regularity found = Regularity.of(signal(k -> Math.sin(2 * Math.PI * k / 24), 0.6), 120)
                .orElseThrow();
        assertThat(2 * found.halfPeriodSamples()).isCloseTo(24.006, within(0.001));
        assertThat(found.ratio()).isCloseTo(135.0615, within(0.001));
        assertThat(found.isRegular()).isTrue();
    }

    @Test
    void noiseAndAChirpAreNot() {
        Regularity noise = Regularity.of(signal(k -> 0, 1), 120).orElseThrow();
        assertThat(noise.ratio()).isCloseTo(0.5347, within(0.0001));
        Regularity chirp = Regularity.of(signal(k -> Math.sin(2 * Math.PI * k * k / 9600), 0.6), 120)
                .orElseThrow();
        assertThat(chirp.ratio()).isCloseTo(0.5778, within(0.0001));
        assertThat(chirp.isRegular()).isFalse();
    }

    @Test
    void aRampHasNoRegularity() {
        assertThat(Regularity.of(signal(k -> 0.01 * k, 1), 120)).isEmpty();
    }
}
