package io.loopwarden.alarm;

import java.time.Instant;
import java.util.Objects;
import java.util.Optional;

/**
 * An event that is to happen to an alarm.
 *
 * @param who the person's name, or {@link #SYSTEM}
 * @param why a person's reason, or what the condition said
 * @param until end of shelving; present for {@link AlarmEvent#SHELVE} and only there
 */
public record Change(AlarmEvent event, Instant at, String who, String why, Optional<Instant> until) {

    /** Who changes an alarm when no person does. */
    public static final String SYSTEM = "Loopwarden";

    public Change {
        Objects.requireNonNull(event, "event");
        Objects.requireNonNull(at, "at");
        Objects.requireNonNull(who, "who");
        Objects.requireNonNull(why, "why");
        if (until.isPresent() != (event == AlarmEvent.SHELVE)) {
            throw new IllegalArgumentException("an end belongs to shelving and to nothing else");
        }
        if (until.isPresent() && !until.get().isAfter(at)) {
            throw new IllegalArgumentException("shelving until " + until.get() + " would be over at " + at);
        }
    }

    public static Change bySystem(AlarmEvent event, Instant at, String why) {
        return new Change(event, at, SYSTEM, why, Optional.empty());
    }

    public static Change byPerson(AlarmEvent event, Instant at, String who, String why) {
        return new Change(event, at, who, why, Optional.empty());
    }

    public static Change shelve(Instant at, String who, String why, Instant until) {
        return new Change(AlarmEvent.SHELVE, at, who, why, Optional.of(until));
    }
}
