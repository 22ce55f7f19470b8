package io.loopwarden.alarm;

import java.time.Instant;
import java.util.Collections;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * Alarms that have one cause as far as can be told, and so are one reason to call one person.
 *
 * @param id stable, derived from what it is about and when it began
 * @param place a source, or {@code hall:<name>}
 * @param group the cause, as the definitions name it
 * @param openedAt when its first alarm was raised
 * @param lastRaisedAt when an alarm of it was last raised
 * @param asksSince since when it asks for a person: when it began, or got worse than it was
 * @param quietSince since when none of its alarms stands; present until one does
 * @param closedAt when it was over
 * @param takenBy who acknowledged one of its alarms: somebody is at it
 * @param priority the highest of its alarms' so far
 * @param lead the alarm that speaks for it: the first of the highest priority
 * @param alarms every alarm of it
 * @param mergedInto the incident of the hall that it turned out to be part of
 */
public record Incident(
        String id,
        String place,
        String group,
        Instant openedAt,
        Instant lastRaisedAt,
        Instant asksSince,
        Optional<Instant> quietSince,
        Optional<Instant> closedAt,
        Optional<String> takenBy,
        Optional<Instant> takenAt,
        Priority priority,
        AlarmId lead,
        Set<AlarmId> alarms,
        Optional<String> mergedInto) {

    private static final String HALL = "hall:";

    public Incident {
        Objects.requireNonNull(id, "id");
        Objects.requireNonNull(place, "place");
        Objects.requireNonNull(group, "group");
        Objects.requireNonNull(openedAt, "openedAt");
        Objects.requireNonNull(lastRaisedAt, "lastRaisedAt");
        Objects.requireNonNull(asksSince, "asksSince");
        Objects.requireNonNull(quietSince, "quietSince");
        Objects.requireNonNull(closedAt, "closedAt");
        Objects.requireNonNull(takenBy, "takenBy");
        Objects.requireNonNull(takenAt, "takenAt");
        Objects.requireNonNull(priority, "priority");
        Objects.requireNonNull(lead, "lead");
        Objects.requireNonNull(mergedInto, "mergedInto");
        alarms = Collections.unmodifiableSet(new TreeSet<>(alarms));
        if (!alarms.contains(lead)) {
            throw new IllegalArgumentException("incident " + id + " is led by " + lead + ", which is not in it");
        }
    }

    static String hall(String name) {
        return HALL + name;
    }

    public boolean isOfHall() {
        return place.startsWith(HALL);
    }

    public boolean open() {
        return closedAt.isEmpty() && mergedInto.isEmpty();
    }

    /** The units, or other sources, that have an alarm in it. */
    public Set<String> sources() {
        Set<String> sources = new TreeSet<>();
        alarms.forEach(alarm -> sources.add(alarm.source()));
        return sources;
    }

    Incident with(AlarmId alarm, Priority rank, Instant at) {
        Set<AlarmId> more = new TreeSet<>(alarms);
        more.add(alarm);
        boolean leads = rank.compareTo(priority) > 0;
        // Worse than what somebody took on: it asks for a person again.
        boolean anew = leads && takenBy.isPresent();
        return new Incident(
                id,
                place,
                group,
                openedAt,
                at.isAfter(lastRaisedAt) ? at : lastRaisedAt,
                leads ? at : asksSince,
                Optional.empty(),
                closedAt,
                anew ? Optional.empty() : takenBy,
                anew ? Optional.empty() : takenAt,
                leads ? rank : priority,
                leads ? alarm : lead,
                more,
                mergedInto);
    }

    Incident taken(String who, Instant at) {
        return new Incident(
                id,
                place,
                group,
                openedAt,
                lastRaisedAt,
                asksSince,
                quietSince,
                closedAt,
                Optional.of(takenBy.orElse(who)),
                Optional.of(takenAt.orElse(at)),
                priority,
                lead,
                alarms,
                mergedInto);
    }

    Incident quiet(Optional<Instant> since) {
        return new Incident(
                id,
                place,
                group,
                openedAt,
                lastRaisedAt,
                asksSince,
                since,
                closedAt,
                takenBy,
                takenAt,
                priority,
                lead,
                alarms,
                mergedInto);
    }

    Incident closed(Instant at) {
        return new Incident(
                id,
                place,
                group,
                openedAt,
                lastRaisedAt,
                asksSince,
                quietSince,
                Optional.of(at),
                takenBy,
                takenAt,
                priority,
                lead,
                alarms,
                mergedInto);
    }

    Incident merged(String into, Instant at) {
        return new Incident(
                id,
                place,
                group,
                openedAt,
                lastRaisedAt,
                asksSince,
                quietSince,
                Optional.of(at),
                takenBy,
                takenAt,
                priority,
                lead,
                alarms,
                Optional.of(into));
    }
}
