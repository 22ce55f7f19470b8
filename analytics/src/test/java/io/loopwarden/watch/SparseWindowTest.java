package io.loopwarden.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SparseWindowTest {

    private static final Instant START = Instant.parse("2026-11-25T10:00:00Z");
    private static final long TO = PointWindow.binOf(START.plusSeconds(120));

    @Test
    void theEarliestOfTenSecondsCounts() {
        SparseWindow window = new SparseWindow();
        window.accept(START.plusMillis(5500), 2);
        window.accept(START.plusMillis(1500), 1);
        window.accept(START.plusMillis(1500), 3);
        window.accept(START.plusSeconds(10), 5);
        PointWindow.ShortMean mean = window.mean(TO - 12, TO);
        assertThat(mean.count()).isEqualTo(2);
        assertThat(mean.mean()).isCloseTo(3, within(1e-12));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void orderAndRepetitionDoNotMatter(long seed) {
        List<Integer> seconds = new ArrayList<>();
        for (int second = 0; second < 120; second++) {
            seconds.add(second);
        }
        SparseWindow inOrder = new SparseWindow();
        seconds.forEach(s -> inOrder.accept(START.plusSeconds(s), Math.sin(s)));
        seconds.addAll(seconds.subList(20, 60));
        Collections.shuffle(seconds, new Random(seed));
        SparseWindow shuffled = new SparseWindow();
        seconds.forEach(s -> shuffled.accept(START.plusSeconds(s), Math.sin(s)));
        assertThat(shuffled.mean(TO - 12, TO)).isEqualTo(inOrder.mean(TO - 12, TO));
        assertThat(inOrder.mean(TO - 12, TO).count()).isEqualTo(12);
    }

    @Test
    void whatIsOlderThanTheRingIsRefused() {
        SparseWindow window = new SparseWindow();
        assertThat(window.accept(START.plusSeconds(1000), 1)).isTrue();
        assertThat(window.accept(START.plusSeconds(1000 - 160), 1)).isFalse();
        assertThat(window.mean(TO - 12, TO).count()).isZero();
    }
}
