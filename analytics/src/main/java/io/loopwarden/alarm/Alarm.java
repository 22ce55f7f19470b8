package io.loopwarden.alarm;

import java.time.Instant;
import java.util.Objects;
import java.util.Optional;

/**
 * One alarm as it stands.
 *
 * @param condition whether its condition is there, delays and deadband counted in; also known while it is inhibited
 * @param since when {@code state} began
 * @param raisedAt when it last became unacknowledged by its condition; the time to respond counts from here
 * @param shelvedUntil end of its time on the shelf; kept while it is also out of service
 * @param suppressedBy why it is suppressed by design, in words; kept while it is also shelved or out of service
 * @param outOfService whether a person took it out of service
 * @param evidence what its condition said when it last changed, one sentence
 */
public record Alarm(
        AlarmId id,
        AlarmState state,
        boolean condition,
        Instant since,
        Optional<Instant> raisedAt,
        Optional<Instant> shelvedUntil,
        Optional<String> suppressedBy,
        boolean outOfService,
        String evidence) {

    public Alarm {
        Objects.requireNonNull(id, "id");
        Objects.requireNonNull(state, "state");
        Objects.requireNonNull(since, "since");
        Objects.requireNonNull(raisedAt, "raisedAt");
        Objects.requireNonNull(shelvedUntil, "shelvedUntil");
        Objects.requireNonNull(suppressedBy, "suppressedBy");
        Objects.requireNonNull(evidence, "evidence");
        if (state == AlarmState.SHELVED && shelvedUntil.isEmpty()) {
            throw new IllegalArgumentException(id + " is shelved without a time limit");
        }
    }

    /** An alarm that never occurred. */
    public static Alarm normal(AlarmId id, Instant at) {
        return new Alarm(
                id, AlarmState.NORMAL, false, at, Optional.empty(), Optional.empty(), Optional.empty(), false, "");
    }

    /**
     * The alarm after an event, or why the event is refused.
     *
     * @param latching whether it stays after its condition until it is reset
     */
    Next next(Change change, boolean latching) {
        LifeCycle.Step step = LifeCycle.step(state, change.event());
        Known known = Known.after(this, change);
        return switch (step.kind()) {
            case REFUSE -> new Next.Refused(id + ": " + step.words());
            case STAY -> new Next.Same();
            case MOVE -> changed(known.alarm(this, latching ? step.latchedTarget() : step.target(), change), change);
            case BACK -> changed(known.alarm(this, known.way(), change), change);
            case NOTE -> {
                Alarm noted = known.alarm(this, state, since, raisedAt);
                yield noted.equals(this) ? new Next.Same() : changed(noted, change);
            }
        };
    }

    private Next changed(Alarm after, Change change) {
        return new Next.Changed(after, Transition.of(this, after, change));
    }

    /** What is known of an alarm whatever its state, and decides where it goes when an inhibition ends. */
    private record Known(
            boolean condition,
            Optional<Instant> shelvedUntil,
            Optional<String> suppressedBy,
            boolean outOfService,
            String evidence) {

        static Known after(Alarm before, Change change) {
            AlarmEvent event = change.event();
            boolean occurs = event == AlarmEvent.OCCUR;
            return new Known(
                    occurs || before.condition && event != AlarmEvent.CLEAR,
                    switch (event) {
                        case SHELVE -> change.until();
                        case UNSHELVE -> Optional.empty();
                        default -> before.shelvedUntil;
                    },
                    switch (event) {
                        case SUPPRESS -> Optional.of(change.why());
                        case UNSUPPRESS -> Optional.empty();
                        default -> before.suppressedBy;
                    },
                    event == AlarmEvent.REMOVE || before.outOfService && event != AlarmEvent.RETURN,
                    occurs || event == AlarmEvent.CLEAR ? change.why() : before.evidence);
        }

        /** To the next inhibition that holds, else to where the condition puts it. */
        AlarmState way() {
            if (outOfService) {
                return AlarmState.OUT_OF_SERVICE;
            }
            if (shelvedUntil.isPresent()) {
                return AlarmState.SHELVED;
            }
            if (suppressedBy.isPresent()) {
                return AlarmState.SUPPRESSED_BY_DESIGN;
            }
            return condition ? AlarmState.UNACKNOWLEDGED : AlarmState.NORMAL;
        }

        Alarm alarm(Alarm before, AlarmState target, Change change) {
            boolean raised = target == AlarmState.UNACKNOWLEDGED && change.event() != AlarmEvent.REALARM;
            return alarm(before, target, change.at(), raised ? Optional.of(change.at()) : before.raisedAt);
        }

        Alarm alarm(Alarm before, AlarmState target, Instant since, Optional<Instant> raisedAt) {
            return new Alarm(
                    before.id, target, condition, since, raisedAt, shelvedUntil, suppressedBy, outOfService, evidence);
        }
    }
}
