package io.loopwarden.maintenance;

import io.loopwarden.fleet.UnitId;
import java.time.Instant;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

/**
 * One line of a unit's maintenance log.
 *
 * @param part what was worked on, in the words of points: {@code exchanger}, {@code exchanger.1}, {@code tcs.filter.2},
 *     {@code fws.strainer}, {@code pump.1}, or a point's name; empty for the unit as a whole
 * @param from when the work began
 * @param until when it ended; the same instant where it took no time
 * @param by who wrote the entry
 * @param withdraws the entry that this one makes void; only with {@link MaintenanceKind#WITHDRAWAL}
 */
public record MaintenanceEntry(
        UUID id,
        UnitId unit,
        MaintenanceKind kind,
        Optional<String> part,
        Instant from,
        Instant until,
        String by,
        Instant writtenAt,
        String note,
        Optional<Amount> amount,
        Optional<Replacement> replacement,
        Optional<UUID> withdraws) {

    public MaintenanceEntry {
        Objects.requireNonNull(id, "id");
        Objects.requireNonNull(unit, "unit");
        Objects.requireNonNull(kind, "kind");
        Objects.requireNonNull(part, "part");
        Objects.requireNonNull(by, "by");
        Objects.requireNonNull(writtenAt, "writtenAt");
        Objects.requireNonNull(note, "note");
        Objects.requireNonNull(amount, "amount");
        Objects.requireNonNull(replacement, "replacement");
        if (until.isBefore(from)) {
            throw new IllegalArgumentException("work on " + unit + " ends " + until + ", before it begins " + from);
        }
        if (withdraws.isPresent() != (kind == MaintenanceKind.WITHDRAWAL)) {
            throw new IllegalArgumentException("a withdrawal, and nothing else, names the entry that it makes void");
        }
    }

    /** Whether it is about that part, or about the unit as a whole. */
    public boolean concerns(String thatPart) {
        return part.isEmpty() || part.get().equals(thatPart) || thatPart.startsWith(part.get() + ".");
    }
}
