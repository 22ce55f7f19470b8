package io.loopwarden.oncall;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.oncall.OnCallPlan.Cover;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DutyTest {

    /** Turns begin on Mondays, 08:00 in Oslo; the clocks go back on 25 October 2026. */
    @ParameterizedTest(name = "{0}: {1}")
    @CsvSource({
        "2026-10-19T07:59:59+02:00, nobody", // before the rota's start
        "2026-10-19T08:00:00+02:00, ines",
        "2026-10-25T23:00:00+01:00, ines", // after the change of the clocks
        "2026-10-26T07:59:59+01:00, ines", // still 08:00 by the wall clock
        "2026-10-26T08:00:00+01:00, omar",
        "2026-11-02T08:00:00+01:00, ines",
    })
    void turnsFollowTheWallClock(String at, String person) {
        Optional<Duty> duty =
                Duty.at(Plan.plan(), Plan.rota(), OffsetDateTime.parse(at).toInstant());
        assertThat(duty.map(Duty::person).orElse("nobody")).isEqualTo(person);
    }

    @Test
    void aTurnOverTheChangeOfTheClocksIsAnHourLonger() {
        Duty duty = Duty.at(Plan.plan(), Plan.rota(), Instant.parse("2026-10-20T00:00:00Z"))
                .orElseThrow();
        assertThat(duty.from()).isEqualTo(Instant.parse("2026-10-19T06:00:00Z"));
        assertThat(duty.until()).isEqualTo(Instant.parse("2026-10-26T07:00:00Z"));
    }

    @Test
    void aCoverTakesPartOfATurnAndTheLastWrittenWins() {
        Instant noon = Instant.parse("2026-11-03T12:00:00Z");
        OnCallPlan plan = Plan.plan(
                new Cover("cooling", "lena", noon, noon.plusSeconds(7200), "ines", "dentist"),
                new Cover("cooling", "omar", noon.plusSeconds(3600), noon.plusSeconds(7200), "lena", "swap"));
        Duty before = Duty.at(plan, Plan.rota(), noon.minusSeconds(1)).orElseThrow();
        assertThat(before.person()).isEqualTo("ines");
        assertThat(before.until()).as("until the cover").isEqualTo(noon);
        assertThat(Duty.at(plan, Plan.rota(), noon).map(Duty::person)).contains("lena");
        assertThat(Duty.at(plan, Plan.rota(), noon.plusSeconds(3600)).map(Duty::person))
                .contains("omar");
        Duty after = Duty.at(plan, Plan.rota(), noon.plusSeconds(7200)).orElseThrow();
        assertThat(after.person()).isEqualTo("ines");
        assertThat(after.from()).as("a hand-over at the cover's end").isEqualTo(noon.plusSeconds(7200));
    }

    /** Quiet hours 22:00 to 07:00 in Oslo. */
    @ParameterizedTest(name = "{0}: {1}")
    @CsvSource({
        "2026-11-03T21:59:59+01:00, awake",
        "2026-11-03T22:00:00+01:00, 2026-11-04T07:00:00+01:00",
        "2026-11-04T03:00:00+01:00, 2026-11-04T07:00:00+01:00",
        "2026-11-04T07:00:00+01:00, awake",
        "2026-10-24T23:30:00+02:00, 2026-10-25T07:00:00+01:00",
    })
    void quietHoursGoOverMidnight(String at, String end) {
        Optional<Instant> quiet = QuietHours.end(
                Plan.plan().person("ines").orElseThrow(),
                OffsetDateTime.parse(at).toInstant());
        assertThat(quiet)
                .isEqualTo(
                        end.equals("awake")
                                ? Optional.empty()
                                : Optional.of(OffsetDateTime.parse(end).toInstant()));
    }
}
