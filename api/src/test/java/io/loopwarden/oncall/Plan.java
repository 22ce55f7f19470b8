package io.loopwarden.oncall;

import io.loopwarden.oncall.OnCallPlan.Chain;
import io.loopwarden.oncall.OnCallPlan.Contact;
import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.oncall.OnCallPlan.Quiet;
import io.loopwarden.oncall.OnCallPlan.Rota;
import io.loopwarden.oncall.OnCallPlan.Step;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;

/** The plan that the tests are made of: Ines and Omar take weeks in turn, Lena is told after ten minutes. */
final class Plan {

    static final ZoneId OSLO = ZoneId.of("Europe/Oslo");

    private Plan() {}

    static Person person(String id, Quiet quiet) {
        return new Person(
                id, id + " of the test", OSLO, List.of(new Contact("mail", id + "@example.org", null)), quiet);
    }

    static Rota rota() {
        return new Rota("cooling", OSLO, List.of("ines", "omar"), LocalTime.of(8, 0), 7, LocalDate.of(2026, 10, 19));
    }

    static OnCallPlan plan(OnCallPlan.Cover... covers) {
        Quiet night = new Quiet(LocalTime.of(22, 0), LocalTime.of(7, 0));
        return new OnCallPlan(
                1,
                List.of(person("ines", night), person("omar", night), person("lena", null)),
                List.of(rota()),
                List.of(covers),
                List.of(new Chain(
                        "cooling",
                        List.of(
                                new Step(Duration.ZERO, List.of("rota:cooling")),
                                new Step(Duration.ofMinutes(10), List.of("person:lena"))))));
    }
}
