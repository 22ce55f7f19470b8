package io.loopwarden.oncall;

import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.Incident;
import io.loopwarden.alarm.Priority;
import io.loopwarden.oncall.OnCallPlan.Chain;
import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.oncall.OnCallPlan.Step;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * Whom to tell of an incident now, and who is left in peace for which reason. A pure function of what is known: after a restart it comes
 * to the same decisions, and what was decided before is not decided again.
 */
public final class Decisions {

    /** Alarms that may turn out to be part of something larger wait this long for it. */
    static final Duration GATHER_HIGH = Duration.ofSeconds(15);

    static final Duration GATHER = Duration.ofSeconds(60);

    /** Somebody is to be told. */
    public record Decision(Incident incident, Person person, String kind, int step) {}

    /**
     * Somebody is not told yet.
     *
     * @param until when that ends, where that is known
     */
    public record Hold(String incident, String person, String reason, Optional<Instant> until) {}

    /** @param person id */
    public record Told(String incident, String person, String kind) {}

    public record Outcome(List<Decision> decisions, List<Hold> holds) {}

    private final OnCallPlan plan;
    private final Function<String, Optional<Definition>> definitionOf;
    private final Map<Told, Instant> told;
    private final boolean flood;
    private final List<Decision> decisions = new ArrayList<>();
    private final List<Hold> holds = new ArrayList<>();

    private Decisions(
            OnCallPlan plan,
            Function<String, Optional<Definition>> definitionOf,
            Map<Told, Instant> told,
            boolean flood) {
        this.plan = plan;
        this.definitionOf = definitionOf;
        this.told = told;
        this.flood = flood;
    }

    /**
     * @param told what was decided before, and when
     * @param flood whether there is an alarm flood now
     */
    public static Outcome of(
            List<Incident> open,
            OnCallPlan plan,
            Function<String, Optional<Definition>> definitionOf,
            Map<Told, Instant> told,
            boolean flood,
            Instant at) {
        Decisions decisions = new Decisions(plan, definitionOf, told, flood);
        open.forEach(incident -> decisions.of(incident, at));
        return new Outcome(decisions.decisions, decisions.holds);
    }

    static String kind(Priority priority) {
        return "alarm-" + priority.name().toLowerCase(Locale.ROOT);
    }

    private void of(Incident incident, Instant at) {
        if (incident.takenBy().isPresent() || incident.quietSince().isPresent()) {
            return;
        }
        Optional<Definition> lead = definitionOf.apply(incident.lead().definition());
        Instant gathered = incident.asksSince().plus(lead.map(Decisions::gather).orElse(Duration.ZERO));
        if (gathered.isAfter(at)) {
            holds.add(new Hold(incident.id(), "", "waits for what belongs to it", Optional.of(gathered)));
            return;
        }
        Optional<Chain> chain = plan.chain(lead.map(Definition::who).orElse(""));
        if (chain.isEmpty()) {
            holds.add(new Hold(incident.id(), "", "the on-call plan has no chain: nobody is told", Optional.empty()));
            return;
        }
        Duration within = lead.map(Definition::respondWithin).orElse(Duration.ZERO);
        String kind = kind(incident.priority());
        List<Step> steps = chain.get().steps();
        Optional<Instant> first = firstTold(incident, kind);
        for (int i = 0; i < steps.size(); i++) {
            boolean due = i == 0
                    || first.isPresent()
                            && !first.get().plus(steps.get(i).after()).isAfter(at);
            if (due) {
                for (Person person : plan.people(steps.get(i), at)) {
                    tell(incident, person, kind, i, within, at);
                }
            }
        }
    }

    private static Duration gather(Definition lead) {
        if (!lead.hallWide() && lead.follows().isEmpty()) {
            return Duration.ZERO;
        }
        return lead.priority() == Priority.HIGH ? GATHER_HIGH : GATHER;
    }

    private Optional<Instant> firstTold(Incident incident, String kind) {
        return told.entrySet().stream()
                .filter(entry -> entry.getKey().incident().equals(incident.id())
                        && entry.getKey().kind().equals(kind))
                .map(Map.Entry::getValue)
                .min(Instant::compareTo);
    }

    private void tell(Incident incident, Person person, String kind, int step, Duration within, Instant at) {
        if (told.containsKey(new Told(incident.id(), person.id(), kind))
                || decisions.stream()
                        .anyMatch(each -> each.incident().id().equals(incident.id())
                                && each.person().id().equals(person.id()))) {
            return;
        }
        Instant deadline = incident.asksSince().plus(within);
        if (incident.priority() != Priority.HIGH) {
            Optional<Instant> quiet = QuietHours.end(person, at).filter(end -> end.isBefore(deadline));
            if (quiet.isPresent()) {
                holds.add(new Hold(incident.id(), person.id(), "can wait for the end of quiet hours", quiet));
                return;
            }
            // Half of the time to respond is kept for responding.
            Instant half = incident.asksSince().plus(within.dividedBy(2));
            if (flood && at.isBefore(half)) {
                holds.add(new Hold(
                        incident.id(), person.id(), "can wait for the end of the alarm flood", Optional.of(half)));
                return;
            }
        }
        decisions.add(new Decision(incident, person, kind, step));
    }
}
