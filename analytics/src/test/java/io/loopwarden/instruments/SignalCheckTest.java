package io.loopwarden.instruments;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.instruments.Trust.Finding;
import java.util.Optional;
import java.util.Random;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;

class SignalCheckTest {

    private static final double STEP = 0.01;

    private final Random random = new Random(21);
    private final SignalCheck check = new SignalCheck();
    private int seconds;

    private void feed(int samples, IntToDoubleFunction value) {
        for (int i = 0; i < samples; i++) {
            seconds++;
            check.observe(1e9 + seconds, value.applyAsDouble(i));
        }
    }

    private double noisy(double sigma) {
        return Math.rint((34 + sigma * random.nextGaussian()) / STEP) * STEP;
    }

    private Optional<Finding> finding() {
        return check.verdict("tcs.supply.temperature", 0.2, true).map(Trust::finding);
    }

    @Test
    void aSensorThatStopsChangingIsStuckAfterTenMinutes() {
        feed(3600, i -> noisy(0.012));
        feed(590, i -> 34.02);
        assertThat(finding()).isEmpty();
        feed(30, i -> 34.02);
        assertThat(finding()).contains(Finding.STUCK);
        feed(1, i -> 34.03);
        assertThat(finding()).isEmpty();
    }

    /** Step 0.1 K at noise 0.02 K repeats nearly always: equal values alone prove nothing. */
    @Test
    void aCoarseQuietSensorThatRepeatsByItselfIsNotStuck() {
        for (int hour = 0; hour < 6; hour++) {
            int h = hour;
            feed(
                    3600,
                    i -> Math.rint((34 + 0.03 * Math.sin(h + i / 900.0) + 0.02 * random.nextGaussian()) / 0.1) * 0.1);
            assertThat(finding()).isNotEqualTo(Optional.of(Finding.STUCK));
        }
    }

    @Test
    void noiseThatComesIsNamedOnceItStays() {
        feed(3600, i -> noisy(0.012));
        feed(600, i -> noisy(0.2));
        assertThat(finding()).isEmpty();
        feed(900, i -> noisy(0.2));
        assertThat(finding()).contains(Finding.NOISY);
    }

    @Test
    void threeSpikesInAnHourAreNamed() {
        feed(3600, i -> noisy(0.012));
        feed(900, i -> i % 300 == 299 ? 39 : noisy(0.012));
        feed(5, i -> noisy(0.012));
        assertThat(finding()).contains(Finding.SPIKES);
    }

    @Test
    void aRampIsNoFault() {
        feed(3600, i -> noisy(0.012));
        feed(3600, i -> noisy(0.012) + 5 * i / 3600.0);
        assertThat(finding()).isEmpty();
    }

    @Test
    void aPumpThatStandsShowsNoughtForLong() {
        feed(3600, i -> 300_000 + 80 * random.nextGaussian());
        feed(3600, i -> 0);
        assertThat(check.verdict("pump.1.dp", 1e9, false)).isEmpty();
    }

    @Test
    void theClockIsHeldAgainstOurs() {
        ClockCheck clock = new ClockCheck();
        clock.observe(1000, 0.4);
        assertThat(clock.offS()).isEmpty();
        clock.observe(2000, 95);
        clock.observe(2010, 90);
        assertThat(clock.offS()).hasValue(90);
    }
}
