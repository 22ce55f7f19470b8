package io.loopwarden.oncall;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.Delay;
import io.loopwarden.alarm.Incident;
import io.loopwarden.alarm.PartCondition;
import io.loopwarden.alarm.Priority;
import io.loopwarden.alarm.Severity;
import io.loopwarden.oncall.Decisions.Hold;
import io.loopwarden.oncall.Decisions.Outcome;
import io.loopwarden.oncall.Decisions.Told;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** Ines has duty in the week of 2 November 2026; her night is 22:00 to 07:00, which is 21:00 to 06:00 UTC. */
class DecisionsTest {

    private static final Instant DAY = Instant.parse("2026-11-03T12:00:00Z");
    private static final Instant NIGHT = Instant.parse("2026-11-03T23:00:00Z");
    private static final AlarmId WET = new AlarmId("E-07", "wet");

    private final Map<Told, Instant> told = new HashMap<>();

    private Outcome decide(Incident incident, Definition lead, boolean flood, Instant at) {
        return Decisions.of(List.of(incident), Plan.plan(), key -> Optional.of(lead), told, flood, at);
    }

    private static Definition lead(Severity severity, Duration within, boolean hallWide) {
        return new Definition(
                "wet",
                "Wet",
                "containment",
                new PartCondition("any"),
                new Delay.Times(Duration.ZERO, Duration.ZERO),
                "cause",
                "consequence",
                severity,
                "go",
                within,
                false,
                Optional.empty(),
                "cooling",
                "leak",
                hallWide,
                Set.of(),
                Set.of(),
                List.of());
    }

    private static final Definition LEAK = lead(Severity.SEVERE, Duration.ofMinutes(5), false);
    private static final Definition FILTER = lead(Severity.MINOR, Duration.ofDays(3), false);

    private static Incident incident(Definition lead, Instant at, Optional<String> takenBy) {
        return new Incident(
                "one",
                "E-07",
                "leak",
                at,
                at,
                at,
                Optional.empty(),
                Optional.empty(),
                takenBy,
                takenBy.map(who -> at),
                lead.priority(),
                WET,
                Set.of(WET),
                Optional.empty());
    }

    /** Who is told, and remembered as told. */
    private List<String> told(Incident incident, Definition lead, Instant at) {
        List<String> people = decide(incident, lead, false, at).decisions().stream()
                .map(each -> each.person().id())
                .toList();
        people.forEach(id -> told.put(new Told("one", id, Decisions.kind(lead.priority())), at));
        return people;
    }

    @Test
    void whoIsOnDutyIsToldAtOnceAndOnceAndTheNextWhenNobodyAnswers() {
        Incident leak = incident(LEAK, DAY, Optional.empty());
        assertThat(told(leak, LEAK, DAY)).containsExactly("ines");
        assertThat(told(leak, LEAK, DAY.plusSeconds(599))).isEmpty();
        assertThat(told(leak, LEAK, DAY.plusSeconds(600))).containsExactly("lena");
        assertThat(told(leak, LEAK, DAY.plusSeconds(9000))).isEmpty();
    }

    @Test
    void whatSomebodyTookIsNotEscalated() {
        assertThat(told(incident(LEAK, DAY, Optional.empty()), LEAK, DAY)).containsExactly("ines");
        assertThat(told(incident(LEAK, DAY, Optional.of("Ines")), LEAK, DAY.plusSeconds(600)))
                .isEmpty();
    }

    @Test
    void atNightALeakWakesAndAFilterWaits() {
        assertThat(told(incident(LEAK, NIGHT, Optional.empty()), LEAK, NIGHT)).containsExactly("ines");
        told.clear();
        Outcome filter = decide(incident(FILTER, NIGHT, Optional.empty()), FILTER, false, NIGHT);
        assertThat(filter.decisions()).isEmpty();
        assertThat(filter.holds())
                .containsExactly(new Hold(
                        "one",
                        "ines",
                        "can wait for the end of quiet hours",
                        Optional.of(Instant.parse("2026-11-04T06:00:00Z"))));
        assertThat(told(incident(FILTER, NIGHT, Optional.empty()), FILTER, NIGHT.plus(Duration.ofHours(3))))
                .as("nor is anybody else woken instead")
                .isEmpty();
        assertThat(told(incident(FILTER, NIGHT, Optional.empty()), FILTER, Instant.parse("2026-11-04T06:00:00Z")))
                .containsExactly("ines");
    }

    @Test
    void whatCannotWaitForTheMorningDoesNotWait() {
        Definition shift = lead(Severity.MAJOR, Duration.ofHours(4), false);
        assertThat(shift.priority()).isEqualTo(Priority.MEDIUM);
        assertThat(told(incident(shift, NIGHT, Optional.empty()), shift, NIGHT)).containsExactly("ines");
    }

    @Test
    void inAFloodALeakStandsOutAndAFilterWaits() {
        assertThat(decide(incident(LEAK, DAY, Optional.empty()), LEAK, true, DAY)
                        .decisions())
                .hasSize(1);
        Outcome filter = decide(incident(FILTER, DAY, Optional.empty()), FILTER, true, DAY);
        assertThat(filter.decisions()).isEmpty();
        assertThat(filter.holds()).extracting(Hold::reason).containsExactly("can wait for the end of the alarm flood");
        assertThat(decide(incident(FILTER, DAY, Optional.empty()), FILTER, true, DAY.plus(Duration.ofHours(42)))
                        .decisions())
                .as("half of the time to respond is kept")
                .hasSize(1);
    }

    @Test
    void whatMayBePartOfSomethingLargerIsGatheredFirst() {
        Definition warm = lead(Severity.MAJOR, Duration.ofMinutes(30), true);
        Incident incident = incident(warm, DAY, Optional.empty());
        assertThat(told(incident, warm, DAY.plusSeconds(14))).isEmpty();
        assertThat(told(incident, warm, DAY.plusSeconds(15))).containsExactly("ines");
    }
}
