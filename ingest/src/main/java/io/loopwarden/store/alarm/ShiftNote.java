package io.loopwarden.store.alarm;

import java.time.Instant;
import java.util.Objects;
import java.util.UUID;

/**
 * A line of the shift log.
 *
 * @param about what it is about: an alarm, an incident, a unit; empty for none
 */
public record ShiftNote(UUID id, Instant at, String who, String about, String note) {

    public ShiftNote {
        Objects.requireNonNull(id, "id");
        Objects.requireNonNull(at, "at");
        Objects.requireNonNull(who, "who");
        Objects.requireNonNull(about, "about");
        if (note.isBlank()) {
            throw new IllegalArgumentException("a note without words says nothing");
        }
    }
}
