package io.loopwarden.alarm;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Figures worked by hand. */
class PerformanceTest {

    private static final Instant NOON = Alarms.NOON;
    private static final Instant ONE = NOON.plus(Duration.ofHours(1));
    private static final Definition LOW =
            Alarms.definition("low", new PartCondition("any")).build();
    private static final Definition HIGH = Alarms.definition("high", new PartCondition("any"))
            .severe(Duration.ofMinutes(5))
            .build();
    private static final Map<String, Definition> DEFINITIONS = Map.of("low", LOW, "high", HIGH);

    private static Performance of(List<Transition> history, List<Alarm> standing) {
        return Performance.of(history, standing, key -> Optional.ofNullable(DEFINITIONS.get(key)), NOON, ONE, 1);
    }

    @Test
    void anHourOfSixPeriods() {
        List<Transition> history = new ArrayList<>();
        for (int n = 0; n < 12; n++) { // 12 in the first ten minutes: a flood
            history.add(Alarms.raised("E-" + n, "low", NOON.plusSeconds(10L * n)));
        }
        history.add(acknowledged("E-0", NOON.plusSeconds(130)));
        history.add(Alarms.raised("E-0", "high", NOON.plus(Duration.ofMinutes(45))));
        Performance figures = of(history, List.of());
        assertThat(figures.annunciated()).isEqualTo(13);
        assertThat(figures.perTenMinutes()).isCloseTo(13 / 6.0, within(1e-12));
        assertThat(figures.peakInTenMinutes()).isEqualTo(12);
        assertThat(figures.shareOfFloodPeriods()).isCloseTo(1 / 6.0, within(1e-12));
        assertThat(figures.floods()).singleElement().satisfies(flood -> {
            assertThat(flood.from()).isEqualTo(NOON.plusSeconds(100));
            assertThat(flood.alarms()).isEqualTo(12);
        });
        assertThat(figures.byPriority()).isEqualTo(Map.of(Priority.LOW, 0, Priority.MEDIUM, 12, Priority.HIGH, 1));
        assertThat(figures.medianToAcknowledge()).contains(Duration.ofSeconds(130));
        assertThat(figures.unanswered()).isEqualTo(12);
        assertThat(figures.frequent()).hasSize(10);
    }

    @Test
    void threeTimesInAMinuteIsChattering() {
        List<Transition> history = List.of(
                Alarms.raised("E-1", "low", NOON),
                Alarms.raised("E-1", "low", NOON.plusSeconds(30)),
                Alarms.raised("E-1", "low", NOON.plusSeconds(60)),
                Alarms.raised("E-2", "low", NOON),
                Alarms.raised("E-2", "low", NOON.plusSeconds(40)),
                Alarms.raised("E-2", "low", NOON.plusSeconds(80)));
        assertThat(of(history, List.of()).chattering()).containsExactly(new AlarmId("E-1", "low"));
    }

    @Test
    void moreThanADayIsStale() {
        Alarm old = new Alarm(
                Alarms.ID,
                AlarmState.ACKNOWLEDGED,
                true,
                NOON,
                Optional.of(ONE.minus(Duration.ofHours(25))),
                Optional.empty(),
                Optional.empty(),
                false,
                "");
        assertThat(of(List.of(), List.of(old)).stale()).containsExactly(Alarms.ID);
        assertThat(of(List.of(), List.of(Alarms.in(AlarmState.NORMAL))).stale()).isEmpty();
    }

    @Test
    void nothingHappenedIsAFigureToo() {
        Performance figures = of(List.of(), List.of());
        assertThat(figures.perTenMinutes()).isZero();
        assertThat(figures.medianToAcknowledge()).isEmpty();
        assertThat(figures.shareOfFrequent()).isZero();
    }

    private static Transition acknowledged(String source, Instant at) {
        return new Transition(
                new AlarmId(source, "low"),
                AlarmEvent.ACKNOWLEDGE,
                AlarmState.UNACKNOWLEDGED,
                AlarmState.ACKNOWLEDGED,
                at,
                "Ines",
                "",
                Optional.empty());
    }
}
