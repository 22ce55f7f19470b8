package io.loopwarden.oncall;

import io.loopwarden.oncall.OnCallPlan.Cover;
import io.loopwarden.oncall.OnCallPlan.Rota;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * One person's duty in a rota.
 *
 * @param cover whether somebody stands in
 */
public record Duty(String rota, String person, Instant from, Instant until, boolean cover) {

    /** Who is on duty at an instant; empty before the rota's start. Turns follow the wall clock, so that a change of the clocks moves none. */
    public static Optional<Duty> at(OnCallPlan plan, Rota rota, Instant at) {
        Optional<Duty> turn = turn(rota, at);
        List<Cover> covers = plan.covers().stream()
                .filter(cover -> cover.rota().equals(rota.name()))
                .toList();
        Optional<Cover> now = last(covers, at);
        if (now.isPresent()) {
            return now.map(cover -> new Duty(rota.name(), cover.person(), cover.from(), cover.until(), true));
        }
        // A turn is cut by what covers its parts.
        return turn.map(duty -> new Duty(
                duty.rota(),
                duty.person(),
                covers.stream()
                        .map(Cover::until)
                        .filter(end -> end.isAfter(duty.from()) && !end.isAfter(at))
                        .max(Comparator.naturalOrder())
                        .orElse(duty.from()),
                covers.stream()
                        .map(Cover::from)
                        .filter(begin -> begin.isAfter(at) && begin.isBefore(duty.until()))
                        .min(Comparator.naturalOrder())
                        .orElse(duty.until()),
                false));
    }

    private static Optional<Cover> last(List<Cover> covers, Instant at) {
        return covers.stream()
                .filter(cover -> !cover.from().isAfter(at) && cover.until().isAfter(at))
                .reduce((first, later) -> later);
    }

    private static Optional<Duty> turn(Rota rota, Instant at) {
        LocalDateTime local = LocalDateTime.ofInstant(at, rota.zone());
        LocalDate day = local.toLocalTime().isBefore(rota.handOver())
                ? local.toLocalDate().minusDays(1)
                : local.toLocalDate();
        long days = ChronoUnit.DAYS.between(rota.start(), day);
        if (days < 0 || rota.people().isEmpty()) {
            return Optional.empty();
        }
        long turn = days / rota.everyDays();
        LocalDate begin = rota.start().plusDays(turn * rota.everyDays());
        return Optional.of(new Duty(
                rota.name(),
                rota.people().get((int) (turn % rota.people().size())),
                begin.atTime(rota.handOver()).atZone(rota.zone()).toInstant(),
                begin.plusDays(rota.everyDays())
                        .atTime(rota.handOver())
                        .atZone(rota.zone())
                        .toInstant(),
                false));
    }
}
