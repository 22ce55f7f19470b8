package io.loopwarden.alarm;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Function;

/**
 * Puts alarms together that have one cause: by unit and group, into the incident they follow from, and, where half a hall has the same,
 * into one incident of the hall. Used by one thread.
 */
public final class Incidents {

    private final GroupingSettings settings;
    private final Function<String, Optional<Definition>> definitionOf;
    private final Map<String, String> hallOf;
    private final Map<String, Integer> unitsOf = new HashMap<>();
    private final Map<String, Incident> open = new LinkedHashMap<>();
    private final Map<AlarmId, String> incidentOf = new HashMap<>();

    /** @param hallOf hall of each unit */
    public Incidents(
            GroupingSettings settings,
            Function<String, Optional<Definition>> definitionOf,
            Map<String, String> hallOf) {
        this.settings = settings;
        this.definitionOf = definitionOf;
        this.hallOf = Map.copyOf(hallOf);
        hallOf.values().forEach(hall -> unitsOf.merge(hall, 1, Integer::sum));
    }

    /** Goes on from incidents as they were kept; those that are over are left out. */
    public void restore(Collection<Incident> incidents) {
        incidents.stream()
                .filter(Incident::open)
                .sorted(Comparator.comparing(Incident::openedAt))
                .forEach(this::put);
    }

    public List<Incident> open() {
        return List.copyOf(open.values());
    }

    public Optional<Incident> ofAlarm(AlarmId alarm) {
        return Optional.ofNullable(incidentOf.get(alarm)).map(open::get);
    }

    /**
     * Takes in what happened.
     *
     * @param standing alarms as they are after it
     * @return every incident that is new or changed, as it is now
     */
    public Collection<Incident> follow(
            List<Transition> transitions, Function<AlarmId, Optional<Alarm>> standing, Instant at) {
        Map<String, Incident> changed = new TreeMap<>();
        for (Transition transition : transitions) {
            if (transition.annunciates()) {
                raised(transition.id(), transition.at(), changed);
            } else if (transition.event() == AlarmEvent.ACKNOWLEDGE) {
                ofAlarm(transition.id())
                        .ifPresent(incident -> keep(incident.taken(transition.who(), transition.at()), changed));
            }
        }
        passTime(standing, at, changed);
        return changed.values();
    }

    private void raised(AlarmId alarm, Instant at, Map<String, Incident> changed) {
        Optional<Definition> definition = definitionOf.apply(alarm.definition());
        String group = definition.map(Definition::group).orElse(alarm.definition());
        Priority priority = definition.map(Definition::priority).orElse(Priority.LOW);
        Incident incident = ofAlarm(alarm)
                .or(() -> joined(
                        alarm.source(),
                        group,
                        definition.map(Definition::follows).orElse(Set.of()),
                        at))
                .map(known -> known.with(alarm, priority, at))
                .orElseGet(() -> begun(alarm.source(), group, at, priority, alarm, Set.of(alarm)));
        keep(incident, changed);
        if (!incident.isOfHall() && definition.map(Definition::hallWide).orElse(false)) {
            widen(hallOf.get(alarm.source()), group, at, changed);
        }
    }

    /** An incident of the hall or the unit with the same cause, or one that this may be a consequence of. */
    private Optional<Incident> joined(String source, String group, Set<String> follows, Instant at) {
        String hall = Incident.hall(hallOf.getOrDefault(source, ""));
        return open.values().stream()
                .filter(incident ->
                        incident.place().equals(source) || incident.place().equals(hall))
                .filter(incident -> incident.group().equals(group)
                        || follows.contains(incident.group())
                                && !incident.openedAt().plus(settings.joins()).isBefore(at))
                .max(Comparator.comparing(Incident::isOfHall));
    }

    private static Incident begun(
            String place, String group, Instant at, Priority priority, AlarmId lead, Set<AlarmId> alarms) {
        String name = place + " " + group + " " + at;
        return new Incident(
                UUID.nameUUIDFromBytes(name.getBytes(StandardCharsets.UTF_8)).toString(),
                place,
                group,
                at,
                at,
                at,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                priority,
                lead,
                alarms,
                Optional.empty());
    }

    /** Where enough units of a hall have it at once, their incidents become one, with what follows from it. */
    private void widen(String hall, String group, Instant at, Map<String, Incident> changed) {
        List<Incident> same = recent(hall, at).stream()
                .filter(incident -> incident.group().equals(group))
                .toList();
        int units = unitsOf.getOrDefault(hall, 0);
        if (same.size() < settings.leastUnits() || same.size() < settings.leastShare() * units) {
            return;
        }
        Incident first = same.get(0);
        Incident wide =
                begun(Incident.hall(hall), group, first.openedAt(), first.priority(), first.lead(), first.alarms());
        for (Incident part : recent(hall, at)) {
            if (part.group().equals(group) || follows(part, group)) {
                for (AlarmId alarm : part.alarms()) {
                    wide = wide.with(alarm, priority(alarm), part.lastRaisedAt());
                }
                if (part.takenBy().isPresent() && wide.takenBy().isEmpty()) {
                    wide = wide.taken(part.takenBy().get(), part.takenAt().orElse(at));
                }
                open.remove(part.id());
                changed.put(part.id(), part.merged(wide.id(), at));
            }
        }
        keep(wide, changed);
    }

    private List<Incident> recent(String hall, Instant at) {
        return open.values().stream()
                .filter(incident -> hall != null && hall.equals(hallOf.get(incident.place())))
                .filter(incident ->
                        !incident.lastRaisedAt().plus(settings.together()).isBefore(at))
                .toList();
    }

    /** Only what follows with every alarm of it: a leak in the same unit stays an incident of its own. */
    private boolean follows(Incident part, String group) {
        return part.alarms().stream()
                .allMatch(alarm -> definitionOf
                        .apply(alarm.definition())
                        .map(definition -> definition.follows().contains(group))
                        .orElse(false));
    }

    private Priority priority(AlarmId alarm) {
        return definitionOf.apply(alarm.definition()).map(Definition::priority).orElse(Priority.LOW);
    }

    private void passTime(Function<AlarmId, Optional<Alarm>> standing, Instant at, Map<String, Incident> changed) {
        for (Incident incident : List.copyOf(open.values())) {
            boolean stands = incident.alarms().stream()
                    .anyMatch(id -> standing.apply(id)
                            .map(alarm -> alarm.state().stands())
                            .orElse(false));
            if (stands && incident.quietSince().isPresent()) {
                keep(incident.quiet(Optional.empty()), changed);
            } else if (!stands && incident.quietSince().isEmpty()) {
                keep(incident.quiet(Optional.of(at)), changed);
            } else if (!stands
                    && !incident.quietSince().get().plus(settings.settles()).isAfter(at)) {
                open.remove(incident.id());
                incident.alarms().forEach(incidentOf::remove);
                changed.put(incident.id(), incident.closed(at));
            }
        }
    }

    private void keep(Incident incident, Map<String, Incident> changed) {
        put(incident);
        changed.put(incident.id(), incident);
    }

    private void put(Incident incident) {
        open.put(incident.id(), incident);
        incident.alarms().forEach(alarm -> incidentOf.put(alarm, incident.id()));
    }
}
