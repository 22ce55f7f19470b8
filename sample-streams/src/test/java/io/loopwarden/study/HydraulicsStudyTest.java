package io.loopwarden.study;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.Points;
import io.loopwarden.study.DriftStudy.Case;
import io.loopwarden.study.HuntingStudy.Hunt;
import io.loopwarden.study.PumpStudy.Wear;
import io.loopwarden.study.StuckStudy.Stuck;
import java.nio.file.Path;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** One trial of each quick kind; the study itself is a command. */
class HydraulicsStudyTest {

    private final TrialUnits units = new TrialUnits(Path.of("scenario"));

    @Test
    void aPumpThatLostThreePercentOfItsHeadIsFoundWithinAWeek() {
        Wear wear = new PumpStudy(units).wear(new Random(3), 0.03, 0);
        assertThat(wear.calledBefore()).isFalse();
        assertThat(wear.foundOnDay()).isBetween(1, 7);
    }

    @Test
    void aHuntingValveIsCalledWithinTenPeriodsAndLoadFollowingNever() {
        HuntingStudy study = new HuntingStudy(units);
        Hunt hunt = study.hunt(new Random(5));
        assertThat(hunt.periods()).isLessThanOrEqualTo(10);
        assertThat(study.falseCalls(new Random(6), 3)).isZero();
    }

    @Test
    void aStuckSensorIsNamedAlone() {
        Stuck stuck = new StuckStudy(units).stuck(new Random(7));
        assertThat(stuck.named()).isTrue();
        assertThat(stuck.plantAlarm()).isFalse();
    }

    @Test
    void aDriftingSensorIsNamedByItsPairAndTheHeatBalance() {
        Case drift = new DriftStudy(units).drift(Points.TCS_RETURN_TEMPERATURE, new Random(8));
        assertThat(drift.calledBefore()).isFalse();
        assertThat(drift.last()).containsExactly(Points.TCS_RETURN_TEMPERATURE);
    }
}
