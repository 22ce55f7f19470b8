package io.loopwarden.oncall;

import io.loopwarden.oncall.OnCallPlan.Chain;
import io.loopwarden.oncall.OnCallPlan.Contact;
import io.loopwarden.oncall.OnCallPlan.Cover;
import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.oncall.OnCallPlan.Rota;
import io.loopwarden.oncall.OnCallPlan.Step;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** Finds what is wrong in a plan, each fault with its place: {@code rotas[0].people[1]: there is no person 'omar'}. */
public final class PlanCheck {

    private static final int MOST = 1000;
    private static final Set<String> PRIORITIES = Set.of("low", "medium", "high");
    private static final Duration LONGEST = Duration.ofDays(7);

    private final OnCallPlan plan;
    private final Collection<String> channels;
    private final List<String> faults = new ArrayList<>();

    private PlanCheck(OnCallPlan plan, Collection<String> channels) {
        this.plan = plan;
        this.channels = channels;
    }

    /** @param channels names of the channels there are */
    public static List<String> faults(OnCallPlan plan, Collection<String> channels) {
        PlanCheck check = new PlanCheck(plan, channels);
        check.people();
        check.rotas();
        check.covers();
        check.chains();
        return List.copyOf(check.faults);
    }

    private void people() {
        few("people", plan.people());
        Set<String> seen = new HashSet<>();
        for (int i = 0; i < plan.people().size(); i++) {
            Person person = plan.people().get(i);
            String at = "people[" + i + "]";
            named(at + ".id", person.id(), seen);
            if (person.name() == null || person.name().isBlank()) {
                add(at + ".name", "is missing");
            }
            if (person.zone() == null) {
                add(at + ".zone", "is missing; a zone's name or an offset such as \"+01:00\"");
            }
            if (person.quiet() != null
                    && (person.quiet().from() == null || person.quiet().to() == null)) {
                add(at + ".quiet", "needs from and to");
            }
            if (person.contacts().isEmpty()) {
                add(at + ".contacts", "is empty: nothing could reach this person");
            }
            for (int c = 0; c < person.contacts().size(); c++) {
                contact(at + ".contacts[" + c + "]", person.contacts().get(c));
            }
        }
    }

    private void contact(String at, Contact contact) {
        if (contact.channel() == null || !channels.contains(contact.channel())) {
            add(at + ".channel", "there is no channel '" + contact.channel() + "'; there are " + channels);
        }
        if (contact.from() != null && !PRIORITIES.contains(contact.from())) {
            add(at + ".from", "'" + contact.from() + "' is not one of low, medium, high");
        }
        if (contact.address().contains("\n") || contact.address().contains("\r")) {
            add(at + ".address", "holds a line break");
        }
    }

    private void rotas() {
        few("rotas", plan.rotas());
        Set<String> seen = new HashSet<>();
        for (int i = 0; i < plan.rotas().size(); i++) {
            Rota rota = plan.rotas().get(i);
            String at = "rotas[" + i + "]";
            named(at + ".name", rota.name(), seen);
            if (rota.zone() == null || rota.handOver() == null || rota.start() == null) {
                add(at, "needs zone, handOver and start");
            }
            if (rota.everyDays() < 1 || rota.everyDays() > 366) {
                add(at + ".everyDays", rota.everyDays() + " is not 1 to 366");
            }
            if (rota.people().isEmpty()) {
                add(at + ".people", "is empty: nobody would be on call");
            }
            for (int p = 0; p < rota.people().size(); p++) {
                person(at + ".people[" + p + "]", rota.people().get(p));
            }
        }
    }

    private void covers() {
        few("covers", plan.covers());
        for (int i = 0; i < plan.covers().size(); i++) {
            Cover cover = plan.covers().get(i);
            String at = "covers[" + i + "]";
            if (plan.rota(String.valueOf(cover.rota())).isEmpty()) {
                add(at + ".rota", "there is no rota '" + cover.rota() + "'");
            }
            person(at + ".person", cover.person());
            if (cover.from() == null || cover.until() == null || !cover.until().isAfter(cover.from())) {
                add(at, "needs from and a later until");
            }
        }
    }

    private void chains() {
        few("chains", plan.chains());
        Set<String> seen = new HashSet<>();
        for (int i = 0; i < plan.chains().size(); i++) {
            Chain chain = plan.chains().get(i);
            String at = "chains[" + i + "]";
            named(at + ".name", chain.name(), seen);
            if (chain.steps().isEmpty()) {
                add(at + ".steps", "is empty: nobody would be told");
            }
            for (int s = 0; s < chain.steps().size(); s++) {
                step(at + ".steps[" + s + "]", chain.steps(), s);
            }
        }
    }

    private void step(String at, List<Step> steps, int place) {
        Step step = steps.get(place);
        if (step.after() == null || step.after().isNegative() || step.after().compareTo(LONGEST) > 0) {
            add(at + ".after", "is not between PT0S and " + LONGEST);
            return;
        }
        if (place == 0 && !step.after().isZero()) {
            add(at + ".after", "is " + step.after() + "; the first step tells at once: PT0S");
        }
        if (place > 0
                && steps.get(place - 1).after() != null
                && step.after().compareTo(steps.get(place - 1).after()) <= 0) {
            add(at + ".after", "is not later than the step before");
        }
        if (step.tell().isEmpty()) {
            add(at + ".tell", "is empty");
        }
        for (String target : step.tell()) {
            if (target.startsWith("rota:")) {
                if (plan.rota(target.substring(5)).isEmpty()) {
                    add(at + ".tell", "there is no rota '" + target.substring(5) + "'");
                }
            } else if (target.startsWith("person:")) {
                person(at + ".tell", target.substring(7));
            } else {
                add(at + ".tell", "'" + target + "' is neither rota:<name> nor person:<id>");
            }
        }
    }

    private void person(String at, String id) {
        if (plan.person(String.valueOf(id)).isEmpty()) {
            add(at, "there is no person '" + id + "'");
        }
    }

    private void named(String at, String name, Set<String> seen) {
        if (name == null || !name.matches("[A-Za-z0-9][A-Za-z0-9._-]{0,63}")) {
            add(at, "'" + name + "' is not 1 to 64 of letters, digits, '.', '_', '-'");
        } else if (!seen.add(name)) {
            add(at, "'" + name + "' is there twice");
        }
    }

    private void few(String what, List<?> list) {
        if (list.size() > MOST) {
            add(what, "more than " + MOST);
        }
    }

    private void add(String at, String message) {
        faults.add(at + ": " + message);
    }
}
