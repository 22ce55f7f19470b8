package io.loopwarden.oncall;

import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.oncall.OnCallPlan.Quiet;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZonedDateTime;
import java.util.Optional;

/** When a person is left in peace for what can wait. */
final class QuietHours {

    private QuietHours() {}

    /** End of the quiet hours that hold at an instant; empty if none do. */
    static Optional<Instant> end(Person person, Instant at) {
        Quiet quiet = person.quiet();
        if (quiet == null || quiet.from().equals(quiet.to())) {
            return Optional.empty();
        }
        ZonedDateTime local = at.atZone(person.zone());
        LocalDate today = local.toLocalDate();
        for (LocalDate begin : new LocalDate[] {today.minusDays(1), today}) {
            LocalDate end = quiet.to().isAfter(quiet.from()) ? begin : begin.plusDays(1);
            Instant from = begin.atTime(quiet.from()).atZone(person.zone()).toInstant();
            Instant to = end.atTime(quiet.to()).atZone(person.zone()).toInstant();
            if (!from.isAfter(at) && to.isAfter(at)) {
                return Optional.of(to);
            }
        }
        return Optional.empty();
    }
}
