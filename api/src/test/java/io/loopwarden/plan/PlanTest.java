package io.loopwarden.plan;

import static org.assertj.core.api.Assertions.assertThat;

import biweekly.Biweekly;
import biweekly.ICalendar;
import biweekly.component.VEvent;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A plan leaves as a calendar and a table that others can read. */
class PlanTest {

    private static final Instant NOW = Instant.parse("2026-11-25T23:30:00Z");
    private static final ZoneId ZONE = ZoneId.of("+01:00");
    private static final Job CLEAN = new Job(
            "E-07",
            "East",
            "Quillmere",
            "heat-transfer",
            "clean the exchangers",
            "days-to-limit",
            Instant.parse("2026-12-14T12:00:00Z"),
            Instant.parse("2026-12-08T23:30:00Z"),
            Instant.parse("2026-12-22T12:00:00Z"),
            "Reaches its limit in 19 days; \"as it looks\", today.");
    private static final Job NOW_DUE = new Job(
            "W-03", "West", "Ostravik", "pumping", "overhaul pump 2", "", NOW, null, null, "=pump 2 cannot alone");

    @Test
    void aCalendarHasOneDayForEachJobAndKeepsItsIdentity() {
        String text = PlanCalendar.text(List.of(CLEAN, NOW_DUE), "Forecast centre", ZONE, NOW);
        assertThat(text)
                .startsWith("BEGIN:VCALENDAR\r\n")
                .contains("\r\nVERSION:2.0\r\n")
                .endsWith("END:VCALENDAR\r\n");
        assertThat(text.lines()).allSatisfy(line -> assertThat(line.length()).isLessThanOrEqualTo(75));
        ICalendar read = Biweekly.parse(text).first();
        assertThat(read.getEvents()).hasSize(2);
        VEvent clean = read.getEvents().get(0);
        assertThat(clean.getSummary().getValue()).isEqualTo("E-07: clean the exchangers");
        // 2026-12-08 23:30 UTC is already the 9th on the site's wall.
        assertThat(text).contains("DTSTART;VALUE=DATE:20261209\r\n");
        assertThat(clean.getDescription().getValue()).contains("80 % interval 2026-12-09 to 2026-12-22");
        String later = PlanCalendar.text(List.of(CLEAN), "Forecast centre", ZONE, NOW.plusSeconds(86_400));
        assertThat(Biweekly.parse(later).first().getEvents().get(0).getUid()).isEqualTo(clean.getUid());
        assertThat(read.validate(biweekly.ICalVersion.V2_0).isEmpty()).isTrue();
    }

    @Test
    void aTableQuotesWhatNeedsIt() {
        assertThat(PlanTable.text(List.of(CLEAN, NOW_DUE)).split("\r\n"))
                .containsExactly(
                        "due_utc,early_80_utc,late_80_utc,unit,hall,supplier,function,work,why",
                        "2026-12-14T12:00:00Z,2026-12-08T23:30:00Z,2026-12-22T12:00:00Z,E-07,East,Quillmere,heat-transfer,"
                                + "clean the exchangers,\"Reaches its limit in 19 days; \"\"as it looks\"\", today.\"",
                        "2026-11-25T23:30:00Z,,,W-03,West,Ostravik,pumping,overhaul pump 2,'=pump 2 cannot alone");
    }
}
