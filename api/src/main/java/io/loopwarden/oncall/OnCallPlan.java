package io.loopwarden.oncall;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;

/**
 * People, rotas and escalation chains; kept as a whole, a change is a new version. {@link PlanCheck} says whether it can be used.
 *
 * @param operators how many operators share the alarm list; the performance figures are for one of them
 * @param covers who stands in for whom; the last one written wins
 */
public record OnCallPlan(int operators, List<Person> people, List<Rota> rotas, List<Cover> covers, List<Chain> chains) {

    public static final OnCallPlan EMPTY = new OnCallPlan(1, List.of(), List.of(), List.of(), List.of());

    public OnCallPlan {
        operators = Math.max(1, operators);
        people = people == null ? List.of() : List.copyOf(people);
        rotas = rotas == null ? List.of() : List.copyOf(rotas);
        covers = covers == null ? List.of() : List.copyOf(covers);
        chains = chains == null ? List.of() : List.copyOf(chains);
    }

    /**
     * Somebody who can be called.
     *
     * @param quiet when what can wait does wait; absent for never
     */
    public record Person(String id, String name, ZoneId zone, List<Contact> contacts, Quiet quiet) {
        public Person {
            contacts = contacts == null ? List.of() : List.copyOf(contacts);
        }
    }

    /**
     * A way to reach a person.
     *
     * @param channel name of the channel
     * @param address what the channel needs: a mail address, a number, nothing
     * @param from least priority that this way is for: low, medium or high; absent for all
     */
    public record Contact(String channel, String address, String from) {
        public Contact {
            address = address == null ? "" : address;
        }
    }

    /** From one wall-clock time to another in the person's zone, over midnight where the second is earlier. */
    public record Quiet(LocalTime from, LocalTime to) {}

    /**
     * Who is on call in turn.
     *
     * @param people ids, in order; the first begins on {@code start}
     * @param handOver wall-clock time of the change
     * @param everyDays length of a turn
     */
    public record Rota(
            String name, ZoneId zone, List<String> people, LocalTime handOver, int everyDays, LocalDate start) {
        public Rota {
            people = people == null ? List.of() : List.copyOf(people);
        }
    }

    /** Somebody takes a rota's duty for a while, whoever's turn it is. */
    public record Cover(String rota, String person, Instant from, Instant until, String by, String why) {}

    /** Whom to tell in which order until somebody acknowledges. */
    public record Chain(String name, List<Step> steps) {
        public Chain {
            steps = steps == null ? List.of() : List.copyOf(steps);
        }
    }

    /**
     * @param after since the first message of the chain was decided on
     * @param tell {@code rota:<name>} or {@code person:<id>}
     */
    public record Step(Duration after, List<String> tell) {
        public Step {
            tell = tell == null ? List.of() : List.copyOf(tell);
        }
    }

    public Optional<Person> person(String id) {
        return people.stream().filter(person -> person.id().equals(id)).findFirst();
    }

    public Optional<Rota> rota(String name) {
        return rotas.stream().filter(rota -> rota.name().equals(name)).findFirst();
    }

    /** The chain of that name; where there is none, the first: somebody has to be told. */
    public Optional<Chain> chain(String name) {
        return chains.stream()
                .filter(chain -> chain.name().equals(name))
                .findFirst()
                .or(() -> chains.stream().findFirst());
    }

    /** The people that a step names at an instant, each once. */
    List<Person> people(Step step, Instant at) {
        return step.tell().stream()
                .flatMap(target -> target(target, at).stream())
                .distinct()
                .flatMap(id -> person(id).stream())
                .toList();
    }

    private Optional<String> target(String target, Instant at) {
        String name = target.substring(target.indexOf(':') + 1);
        return target.startsWith("rota:")
                ? rota(name).flatMap(rota -> Duty.at(this, rota, at)).map(Duty::person)
                : Optional.of(name);
    }
}
