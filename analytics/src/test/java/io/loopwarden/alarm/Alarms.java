package io.loopwarden.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Definitions, alarms and facts that the tests are made of. */
final class Alarms {

    static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");
    static final AlarmId ID = new AlarmId("service:store", "store");

    private Alarms() {}

    /** An alarm in a state that it reached by itself: {@code condition} is what that state says. */
    static Alarm in(AlarmState state) {
        boolean there = state == AlarmState.UNACKNOWLEDGED || state == AlarmState.ACKNOWLEDGED;
        return in(
                state,
                there,
                state == AlarmState.SHELVED,
                state == AlarmState.SUPPRESSED_BY_DESIGN,
                state == AlarmState.OUT_OF_SERVICE);
    }

    static Alarm in(AlarmState state, boolean condition, boolean shelved, boolean suppressed, boolean out) {
        return new Alarm(
                ID,
                state,
                condition,
                NOON,
                Optional.empty(),
                shelved ? Optional.of(NOON.plusSeconds(3600)) : Optional.empty(),
                suppressed ? Optional.of("a connection is lost") : Optional.empty(),
                out,
                "");
    }

    static Change change(AlarmEvent event, Instant at) {
        return event == AlarmEvent.SHELVE
                ? Change.shelve(at, "Ines", "valve work", at.plusSeconds(3600))
                : new Change(event, at, event.byPerson() ? "Ines" : Change.SYSTEM, "because", Optional.empty());
    }

    static Builder definition(String key, Condition condition) {
        return new Builder(key, condition);
    }

    /** A definition with everything that a test does not care about filled in. */
    static final class Builder {
        private final String key;
        private final Condition condition;
        private Delay.Times delays = new Delay.Times(Duration.ZERO, Duration.ZERO);
        private Severity severity = Severity.MAJOR;
        private Duration respondWithin = Duration.ofHours(4);
        private boolean latching;
        private Optional<Duration> realarm = Optional.empty();
        private String group;
        private boolean hallWide;
        private Set<String> follows = Set.of();
        private Set<String> suppressedWhile = Set.of();

        Builder(String key, Condition condition) {
            this.key = key;
            this.condition = condition;
            this.group = key;
        }

        Builder delays(Duration on, Duration off) {
            delays = new Delay.Times(on, off);
            return this;
        }

        Builder severe(Duration within) {
            severity = Severity.SEVERE;
            respondWithin = within;
            return this;
        }

        Builder latching() {
            latching = true;
            return this;
        }

        Builder realarm(Duration after) {
            realarm = Optional.of(after);
            return this;
        }

        Builder group(String name) {
            group = name;
            return this;
        }

        Builder hallWide() {
            hallWide = true;
            return this;
        }

        Builder follows(String... groups) {
            follows = Set.of(groups);
            return this;
        }

        Builder suppressedWhile(String... keys) {
            suppressedWhile = Set.of(keys);
            return this;
        }

        Definition build() {
            return new Definition(
                    key,
                    key,
                    "control",
                    condition,
                    delays,
                    "cause",
                    "consequence",
                    severity,
                    "first action",
                    respondWithin,
                    latching,
                    realarm,
                    "cooling",
                    group,
                    hallWide,
                    follows,
                    suppressedWhile,
                    List.of());
        }
    }

    static Facts.OfPart part(String source, Instant at, boolean bad) {
        return new Facts.OfPart(source, at, bad, bad ? "it fails" : "all is well");
    }

    static Transition raised(String source, String definition, Instant at) {
        return new Transition(
                new AlarmId(source, definition),
                AlarmEvent.OCCUR,
                AlarmState.NORMAL,
                AlarmState.UNACKNOWLEDGED,
                at,
                Change.SYSTEM,
                "because",
                Optional.empty());
    }
}
