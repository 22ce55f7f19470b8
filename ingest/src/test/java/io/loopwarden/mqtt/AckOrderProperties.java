package io.loopwarden.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

class AckOrderProperties {

    @Provide
    Arbitrary<List<Integer>> orders() {
        return Arbitraries.integers()
                .between(1, 40)
                .flatMap(n -> Arbitraries.shuffle(IntStream.range(0, n).boxed().toList()));
    }

    @Property
    void acknowledgementsLeaveInTheOrderOfArrival(@ForAll("orders") List<Integer> completions) {
        AckOrder order = new AckOrder();
        List<Integer> acknowledged = new ArrayList<>();
        List<AckOrder.Ticket> tickets = new ArrayList<>();
        for (int i = 0; i < completions.size(); i++) {
            int id = i;
            tickets.add(order.add(() -> acknowledged.add(id), 0));
        }
        List<Integer> ready = new ArrayList<>();
        for (int id : completions) {
            tickets.get(id).ready();
            ready.add(id);
            int firstOpen = 0;
            while (ready.contains(firstOpen)) {
                firstOpen++;
            }
            assertThat(acknowledged)
                    .as("all before the first that is not ready, and none after")
                    .containsExactlyElementsOf(
                            IntStream.range(0, firstOpen).boxed().toList());
        }
        assertThat(order.oldestNanos(1)).isZero();
    }

    @Property
    void oneThatNeverGetsReadyHoldsBackAllAfterIt(@ForAll("orders") List<Integer> completions) {
        AckOrder order = new AckOrder();
        List<String> acknowledged = new ArrayList<>();
        order.add(() -> acknowledged.add("never"), 5);
        List<AckOrder.Ticket> tickets = completions.stream()
                .map(id -> order.add(() -> acknowledged.add("late"), 6))
                .toList();
        completions.forEach(id -> tickets.get(id).ready());
        assertThat(acknowledged).isEmpty();
        assertThat(order.oldestNanos(15)).isEqualTo(10);
    }
}
