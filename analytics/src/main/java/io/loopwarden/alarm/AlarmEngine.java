package io.loopwarden.alarm;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;

/**
 * Every alarm of a fleet over time: facts and people's commands in, transitions out. Used by one thread; the same in service and in a
 * trial. What it answers is to be kept by the caller before anybody is told.
 */
public final class AlarmEngine {

    private static final class Entry {
        Alarm alarm;
        Delay delay;

        Entry(Alarm alarm, Delay delay) {
            this.alarm = alarm;
            this.delay = delay;
        }
    }

    private final Map<String, Definition> definitions;
    private final Function<String, Optional<String>> connectionOf;
    private final Map<String, Map<String, Entry>> bySource = new TreeMap<>();

    /** @param connectionOf name of the connection that serves a unit */
    public AlarmEngine(Collection<Definition> definitions, Function<String, Optional<String>> connectionOf) {
        Map<String, Definition> byKey = new LinkedHashMap<>();
        definitions.forEach(definition -> byKey.put(definition.key(), definition));
        this.definitions = Map.copyOf(byKey);
        this.connectionOf = connectionOf;
    }

    /** Goes on from alarms as they were kept. Those whose definition is gone stay as they are until a person ends them. */
    public void restore(Collection<Alarm> alarms) {
        alarms.forEach(alarm -> entries(alarm.id().source())
                .put(alarm.id().definition(), new Entry(alarm, Delay.settled(alarm.condition()))));
    }

    public Optional<Definition> definition(String key) {
        return Optional.ofNullable(definitions.get(key));
    }

    public Collection<Definition> definitions() {
        return definitions.values();
    }

    public Optional<Alarm> alarm(AlarmId id) {
        return Optional.ofNullable(bySource.getOrDefault(id.source(), Map.of()).get(id.definition()))
                .map(entry -> entry.alarm);
    }

    /** Every alarm that ever occurred or is inhibited, by source. */
    public List<Alarm> alarms() {
        return bySource.values().stream()
                .flatMap(entries -> entries.values().stream())
                .map(entry -> entry.alarm)
                .toList();
    }

    /** Judges every condition of a source. */
    public List<Transition> judge(Facts facts) {
        List<Transition> transitions = new ArrayList<>();
        for (Definition definition : definitions.values()) {
            if (definition.condition().concerns(facts)) {
                judge(definition, facts, transitions);
            }
        }
        for (Definition definition : definitions.values()) {
            if (definition.condition().concerns(facts)) {
                suppress(definition, facts, transitions);
            }
        }
        return transitions;
    }

    private void judge(Definition definition, Facts facts, List<Transition> transitions) {
        Entry entry = entry(new AlarmId(facts.source(), definition.key()), facts.at());
        Verdict verdict = definition.condition().judge(facts);
        entry.delay = entry.delay.next(verdict.kind(), facts.at(), definition.delays());
        if (entry.delay.there() != entry.alarm.condition()) {
            AlarmEvent event = entry.delay.there() ? AlarmEvent.OCCUR : AlarmEvent.CLEAR;
            apply(entry, definition, Change.bySystem(event, facts.at(), verdict.sentence()), transitions);
        }
    }

    /** Only what has not occurred is suppressed: an alarm that stands is not taken away because its evidence is cut off. */
    private void suppress(Definition definition, Facts facts, List<Transition> transitions) {
        if (definition.suppressedWhile().isEmpty()) {
            return;
        }
        Entry entry = entry(new AlarmId(facts.source(), definition.key()), facts.at());
        Optional<String> why = suppressor(definition, facts.source());
        boolean suppressed = entry.alarm.suppressedBy().isPresent();
        if (why.isPresent()
                && !suppressed
                && !entry.alarm.condition()
                && !entry.alarm.state().stands()) {
            apply(entry, definition, Change.bySystem(AlarmEvent.SUPPRESS, facts.at(), why.get()), transitions);
        } else if (why.isEmpty() && suppressed) {
            apply(
                    entry,
                    definition,
                    Change.bySystem(AlarmEvent.UNSUPPRESS, facts.at(), "it can be judged again"),
                    transitions);
        }
    }

    private Optional<String> suppressor(Definition definition, String source) {
        for (String key : definition.suppressedWhile()) {
            if (conditionOf(source, key)) {
                return Optional.of(title(key) + ", " + source);
            }
            Optional<String> connection = connectionOf.apply(source).map(AlarmId::connection);
            if (connection.isPresent() && conditionOf(connection.get(), key)) {
                return Optional.of(title(key) + ", " + connection.get());
            }
        }
        return Optional.empty();
    }

    private boolean conditionOf(String source, String key) {
        Entry entry = bySource.getOrDefault(source, Map.of()).get(key);
        return entry != null && entry.alarm.condition();
    }

    private String title(String key) {
        return definition(key).map(Definition::title).orElse(key);
    }

    /** What a person asks for. An alarm that does not exist is refused. */
    public Next command(AlarmId id, Change change) {
        Entry entry = bySource.getOrDefault(id.source(), Map.of()).get(id.definition());
        if (entry == null) {
            return new Next.Refused("there is no alarm " + id);
        }
        Next next = entry.alarm.next(change, latching(id));
        if (next instanceof Next.Changed changed) {
            entry.alarm = changed.alarm();
        }
        return next;
    }

    private boolean latching(AlarmId id) {
        return definition(id.definition()).map(Definition::latching).orElse(false);
    }

    /** Ends shelving whose time is over, and asks again for attention where the definition says so. */
    public List<Transition> passTime(Instant at) {
        List<Transition> transitions = new ArrayList<>();
        for (Map<String, Entry> entries : bySource.values()) {
            for (Entry entry : entries.values()) {
                passTime(entry, at, transitions);
            }
        }
        return transitions;
    }

    private void passTime(Entry entry, Instant at, List<Transition> transitions) {
        Definition definition = definitions.get(entry.alarm.id().definition());
        Optional<Instant> until = entry.alarm.shelvedUntil();
        if (until.isPresent() && !until.get().isAfter(at)) {
            apply(
                    entry,
                    definition,
                    Change.bySystem(AlarmEvent.UNSHELVE, at, "its time on the shelf is over"),
                    transitions);
        }
        if (definition != null && entry.alarm.state() == AlarmState.ACKNOWLEDGED) {
            definition
                    .realarmAfter()
                    .filter(after -> !entry.alarm.since().plus(after).isAfter(at))
                    .ifPresent(after -> apply(
                            entry,
                            definition,
                            Change.bySystem(
                                    AlarmEvent.REALARM,
                                    at,
                                    "acknowledged " + after.toMinutes() + " min ago and still there"),
                            transitions));
        }
    }

    private void apply(Entry entry, Definition definition, Change change, List<Transition> transitions) {
        boolean latching = definition != null && definition.latching();
        if (entry.alarm.next(change, latching) instanceof Next.Changed changed) {
            entry.alarm = changed.alarm();
            transitions.add(changed.transition());
        }
    }

    private Map<String, Entry> entries(String source) {
        return bySource.computeIfAbsent(source, key -> new HashMap<>());
    }

    private Entry entry(AlarmId id, Instant at) {
        return entries(id.source())
                .computeIfAbsent(id.definition(), key -> new Entry(Alarm.normal(id, at), Delay.settled(false)));
    }
}
