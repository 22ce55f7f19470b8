package io.loopwarden.availability;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

class UnitLifeTest {

    private static final long MONTH = 2026 * 12L + 10;
    private static final double STEP_S = 300;

    private double at = 1e9;
    private UnitLife life = UnitLife.NEW;

    private void spend(Condition condition, int steps) {
        for (int i = 0; i < steps; i++) {
            at += STEP_S;
            life = life.after(at, MONTH, condition);
        }
    }

    /** MTBF 50 h and 1 h down give 0.98039 (ISO/IEC: up over up and down). */
    @Test
    void upOverUpAndDown() {
        spend(Condition.RUNNING, 1);
        spend(Condition.RUNNING, 599);
        spend(Condition.DOWN, 12);
        spend(Condition.RUNNING, 1);
        Availability a = Availability.of(List.of(life));
        assertThat(a.failures()).isEqualTo(1);
        assertThat(a.upOfKnown().orElseThrow()).isCloseTo(600.0 / 612, within(1e-9));
        assertThat(a.betweenFailuresS().mean().orElseThrow()).isEqualTo(600 * STEP_S);
        assertThat(a.nines().orElseThrow()).isCloseTo(-Math.log10(12.0 / 612), within(1e-9));
        assertThat(a.knownSeconds()).isEqualTo(612 * STEP_S);
    }

    @Test
    void theUnknownIsNeverUp() {
        spend(Condition.RUNNING, 100);
        at += 30 * 86_400;
        life = life.after(at, MONTH, Condition.RUNNING);
        Availability a = Availability.of(List.of(life));
        assertThat(a.secondsIn().get(Condition.UNKNOWN)).isEqualTo(30 * 86_400);
        assertThat(a.secondsIn().get(Condition.RUNNING)).isEqualTo(99 * STEP_S);
        assertThat(a.upOfKnown()).hasValue(1);
        assertThat(a.upOfAll().orElseThrow()).isLessThan(0.02);
        assertThat(a.nines()).as("no time shows infinitely many").isEmpty();
    }

    @Test
    void aFailureAroundAGapCountsOnce() {
        spend(Condition.RUNNING, 10);
        spend(Condition.DOWN, 3);
        spend(Condition.UNKNOWN, 3);
        spend(Condition.DOWN, 3);
        assertThat(life.failures()).isEqualTo(1);
    }

    @Test
    void plannedTimeIsNeitherUpNorDown() {
        spend(Condition.RUNNING, 10);
        spend(Condition.OUT_OF_USE, 500);
        spend(Condition.RUNNING, 10);
        Availability a = Availability.of(List.of(life));
        assertThat(a.failures()).isZero();
        assertThat(a.upOfKnown()).hasValue(1);
    }

    @Test
    void memoryIsBounded() {
        for (int i = 0; i < 1000; i++) {
            at += STEP_S;
            life = life.after(at, MONTH + i, i % 2 == 0 ? Condition.RUNNING : Condition.DOWN);
        }
        assertThat(life.months()).hasSize(36);
        assertThat(life.changes()).hasSize(64);
        assertThat(life.runs()).hasSize(64);
    }
}
