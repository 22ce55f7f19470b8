package io.loopwarden.oncall;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.oncall.OnCallPlan.Chain;
import io.loopwarden.oncall.OnCallPlan.Contact;
import io.loopwarden.oncall.OnCallPlan.Cover;
import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.oncall.OnCallPlan.Rota;
import io.loopwarden.oncall.OnCallPlan.Step;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;

class PlanCheckTest {

    @Test
    void aGoodPlanHasNoFaults() {
        assertThat(PlanCheck.faults(Plan.plan(), List.of("mail"))).isEmpty();
        assertThat(PlanCheck.faults(OnCallPlan.EMPTY, List.of())).isEmpty();
    }

    @Test
    void everyFaultIsToldWithItsPlace() {
        OnCallPlan bad = new OnCallPlan(
                1,
                List.of(
                        new Person("ines", "", null, List.of(new Contact("fax", "1\r\n2", "urgent")), null),
                        new Person("ines", "Ines", Plan.OSLO, List.of(), null)),
                List.of(new Rota("cooling", Plan.OSLO, List.of("omar"), null, 0, null)),
                List.of(new Cover("heating", "ines", null, null, "", "")),
                List.of(new Chain(
                        "cooling",
                        List.of(
                                new Step(Duration.ofMinutes(1), List.of("rota:x")),
                                new Step(Duration.ofMinutes(1), List.of("ines"))))));
        assertThat(PlanCheck.faults(bad, List.of("mail")))
                .extracting(fault -> fault.substring(0, fault.indexOf(':')))
                .containsExactly(
                        "people[0].name",
                        "people[0].zone",
                        "people[0].contacts[0].channel",
                        "people[0].contacts[0].from",
                        "people[0].contacts[0].address",
                        "people[1].id",
                        "people[1].contacts",
                        "rotas[0]",
                        "rotas[0].everyDays",
                        "rotas[0].people[0]",
                        "covers[0].rota",
                        "covers[0]",
                        "chains[0].steps[0].after",
                        "chains[0].steps[0].tell",
                        "chains[0].steps[1].after",
                        "chains[0].steps[1].tell");
    }
}
