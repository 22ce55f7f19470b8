package io.loopwarden.alarm;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class AlarmEngineTest {

    private static final Instant NOON = Alarms.NOON;
    private static final AlarmId STORE = new AlarmId("service:store", "store");

    private final AlarmEngine engine = new AlarmEngine(
            List.of(
                    Alarms.definition("store", new PartCondition("store"))
                            .realarm(Duration.ofHours(8))
                            .build(),
                    Alarms.definition("lost", new PartCondition(PartCondition.CONNECTION))
                            .build(),
                    Alarms.definition("silent", new PartCondition("unit"))
                            .suppressedWhile("lost")
                            .build()),
            source -> source.equals("service:unit") ? Optional.of("east") : Optional.empty());

    @Test
    void aConditionRaisesAnAlarmAndItsEndReturnsIt() {
        assertThat(engine.judge(Alarms.part("service:store", NOON, true)))
                .singleElement()
                .satisfies(line -> {
                    assertThat(line.to()).isEqualTo(AlarmState.UNACKNOWLEDGED);
                    assertThat(line.why()).isEqualTo("it fails");
                });
        assertThat(engine.judge(Alarms.part("service:store", NOON.plusSeconds(1), true)))
                .isEmpty();
        assertThat(engine.judge(Alarms.part("service:store", NOON.plusSeconds(2), false)))
                .extracting(Transition::to)
                .containsExactly(AlarmState.RETURNED_UNACKNOWLEDGED);
    }

    @Test
    void shelvingEndsByItselfAndTheConditionDecidesWhereTo() {
        engine.judge(Alarms.part("service:store", NOON, true));
        engine.command(STORE, Change.shelve(NOON, "Ines", "disk is being changed", NOON.plusSeconds(600)));
        assertThat(engine.passTime(NOON.plusSeconds(599))).isEmpty();
        assertThat(engine.passTime(NOON.plusSeconds(600))).singleElement().satisfies(line -> {
            assertThat(line.event()).isEqualTo(AlarmEvent.UNSHELVE);
            assertThat(line.to()).isEqualTo(AlarmState.UNACKNOWLEDGED);
            assertThat(line.who()).isEqualTo(Change.SYSTEM);
        });
    }

    @Test
    void whatIsAcknowledgedAndStaysAsksAgain() {
        engine.judge(Alarms.part("service:store", NOON, true));
        engine.command(STORE, Change.byPerson(AlarmEvent.ACKNOWLEDGE, NOON, "Ines", ""));
        assertThat(engine.passTime(NOON.plus(Duration.ofHours(8)).minusMillis(1)))
                .isEmpty();
        assertThat(engine.passTime(NOON.plus(Duration.ofHours(8))))
                .extracting(Transition::event)
                .containsExactly(AlarmEvent.REALARM);
    }

    @Test
    void aLostConnectionSuppressesWhatCannotBeJudged() {
        AlarmId silent = new AlarmId("service:unit", "silent");
        engine.judge(Alarms.part("service:unit", NOON, false));
        engine.judge(Alarms.part("connection:east", NOON, true));
        assertThat(engine.judge(Alarms.part("service:unit", NOON.plusSeconds(1), false)))
                .extracting(Transition::to)
                .containsExactly(AlarmState.SUPPRESSED_BY_DESIGN);
        assertThat(engine.alarm(silent).orElseThrow().suppressedBy()).contains("lost, connection:east");
        engine.judge(Alarms.part("service:unit", NOON.plusSeconds(2), true));
        assertThat(engine.alarm(silent).orElseThrow().state()).isEqualTo(AlarmState.SUPPRESSED_BY_DESIGN);
        engine.judge(Alarms.part("connection:east", NOON.plusSeconds(3), false));
        assertThat(engine.judge(Alarms.part("service:unit", NOON.plusSeconds(4), true)))
                .as("the condition came meanwhile")
                .extracting(Transition::to)
                .containsExactly(AlarmState.UNACKNOWLEDGED);
    }

    @Test
    void whatStandsIsNotTakenAwayBecauseItsEvidenceIsCutOff() {
        engine.judge(Alarms.part("service:unit", NOON, true));
        engine.judge(Alarms.part("connection:east", NOON, true));
        assertThat(engine.judge(Alarms.part("service:unit", NOON.plusSeconds(1), true)))
                .isEmpty();
        assertThat(engine.alarm(new AlarmId("service:unit", "silent"))
                        .orElseThrow()
                        .state())
                .isEqualTo(AlarmState.UNACKNOWLEDGED);
    }

    @Test
    void anAlarmGoesOnAfterARestart() {
        engine.judge(Alarms.part("service:store", NOON, true));
        engine.command(STORE, Change.byPerson(AlarmEvent.ACKNOWLEDGE, NOON, "Ines", ""));
        AlarmEngine later = new AlarmEngine(engine.definitions(), source -> Optional.empty());
        later.restore(engine.alarms());
        assertThat(later.judge(Alarms.part("service:store", NOON.plusSeconds(5), true)))
                .isEmpty();
        assertThat(later.judge(Alarms.part("service:store", NOON.plusSeconds(6), false)))
                .extracting(Transition::from, Transition::to)
                .containsExactly(org.assertj.core.groups.Tuple.tuple(AlarmState.ACKNOWLEDGED, AlarmState.NORMAL));
    }
}
