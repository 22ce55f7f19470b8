package io.loopwarden.modbus;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PollGridTest {

    @ParameterizedTest(name = "{0}")
    @CsvSource(textBlock = """
            # case,                  first, now,  delay
            before the first,        100,   30,   70
            at the first,            100,   100,  10
            a tick that came late,   100,   103,  7
            exactly at a later one,  100,   150,  10
            three were missed,       100,   139,  1
            clock began negative,    -100,  -95,  5
            """)
    void nextTimeIsOnTheGridAndStillToCome(String name, long first, long now, long delay) {
        assertThat(new PollGrid(first, 10).delayNs(now)).isEqualTo(delay);
    }

    @Test
    void latenessOfEachTickDoesNotAddUp() {
        PollGrid grid = new PollGrid(0, 1000);
        long nowNs = 0;
        for (int tick = 0; tick < 500; tick++) {
            long latenessNs = tick % 7;
            nowNs += grid.delayNs(nowNs + latenessNs) + latenessNs;
        }
        assertThat(nowNs).isEqualTo(500_000);
    }

    @Test
    void counterThatWrapsRoundIsNoGap() {
        PollGrid grid = new PollGrid(Long.MAX_VALUE - 5, 10);
        assertThat(grid.delayNs(Long.MAX_VALUE - 5 + 13)).isEqualTo(7);
    }
}
