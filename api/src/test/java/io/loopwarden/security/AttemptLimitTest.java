package io.loopwarden.security;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import org.junit.jupiter.api.Test;

class AttemptLimitTest {

    private final Ticking clock = new Ticking();
    private final AttemptLimit limit = new AttemptLimit(3, clock);

    @Test
    void afterTheFreeFailuresEachWaitIsTwiceTheOneBefore() {
        for (int n = 0; n < 3; n++) {
            limit.failed("mara");
            assertThat(limit.wait("mara")).isZero();
        }
        for (long seconds : new long[] {2, 4, 8, 16}) {
            limit.failed("mara");
            assertThat(limit.wait("mara")).isEqualTo(Duration.ofSeconds(seconds));
        }
        assertThat(limit.wait("ivo")).isZero();
    }

    @Test
    void noWaitIsLongerThanAQuarterOfAnHour() {
        for (int n = 0; n < 200; n++) {
            limit.failed("mara");
        }
        assertThat(limit.wait("mara")).isEqualTo(Duration.ofMinutes(15));
    }

    @Test
    void aSuccessOrAnHourWithoutFailureClears() {
        for (int n = 0; n < 4; n++) {
            limit.failed("mara");
            limit.failed("ivo");
        }
        limit.succeeded("mara");
        clock.now = clock.now.plus(Duration.ofMinutes(61));
        limit.failed("ivo");
        assertThat(limit.wait("mara")).isZero();
        assertThat(limit.wait("ivo")).isZero();
    }

    private static final class Ticking extends Clock {
        Instant now = Instant.parse("2026-11-25T08:00:00Z");

        @Override
        public Instant instant() {
            return now;
        }

        @Override
        public ZoneId getZone() {
            return ZoneOffset.UTC;
        }

        @Override
        public Clock withZone(ZoneId zone) {
            return this;
        }
    }
}
