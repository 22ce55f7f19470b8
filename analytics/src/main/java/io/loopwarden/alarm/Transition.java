package io.loopwarden.alarm;

import java.time.Instant;
import java.util.Objects;
import java.util.Optional;

/**
 * One line of the history: what happened to an alarm, who did it, when and why. {@code from} equals {@code to} where an event was only
 * noted, because the alarm is kept from people meanwhile.
 *
 * @param until end of shelving
 */
public record Transition(
        AlarmId id,
        AlarmEvent event,
        AlarmState from,
        AlarmState to,
        Instant at,
        String who,
        String why,
        Optional<Instant> until) {

    public Transition {
        Objects.requireNonNull(id, "id");
        Objects.requireNonNull(event, "event");
        Objects.requireNonNull(from, "from");
        Objects.requireNonNull(to, "to");
        Objects.requireNonNull(at, "at");
        Objects.requireNonNull(who, "who");
        Objects.requireNonNull(why, "why");
        Objects.requireNonNull(until, "until");
    }

    static Transition of(Alarm before, Alarm after, Change change) {
        return new Transition(
                before.id(),
                change.event(),
                before.state(),
                after.state(),
                change.at(),
                change.who(),
                change.why(),
                change.until());
    }

    /** Whether the operator's attention was asked for: what the performance figures count. */
    public boolean annunciates() {
        return to == AlarmState.UNACKNOWLEDGED && from != to;
    }
}
