package io.loopwarden.modbus;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.pointmap.RegisterLayout;
import io.loopwarden.pointmap.RegisterLayout.Table;
import io.loopwarden.pointmap.RegisterLayout.Type;
import io.loopwarden.pointmap.RegisterLayout.WordOrder;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;

class BlockPlanProperties {

    private record Value(int gapBefore, Type type) {}

    @Property
    void everyValueIsReadOnceAndNoRequestIsTooLong(
            @ForAll("values") List<Value> values,
            @ForAll @IntRange(min = 4, max = 125) int most,
            @ForAll @IntRange(max = 120) int bridge,
            @ForAll Random random) {
        List<Register> registers = place(values);
        Collections.shuffle(registers, random);
        List<Block> blocks = BlockPlan.of(
                registers,
                TestMaps.settings(
                        "max-registers", Integer.toString(most), "bridge-registers", Integer.toString(bridge)));
        assertThat(blocks.stream().flatMap(block -> block.registers().stream()))
                .containsExactlyInAnyOrderElementsOf(registers);
        assertThat(blocks).allSatisfy(block -> {
            assertThat(block.quantity()).isBetween(1, most);
            assertThat(block.registers()).allSatisfy(register -> {
                assertThat(register.layout().address()).isGreaterThanOrEqualTo(block.address());
                assertThat(register.layout().end()).isLessThanOrEqualTo(block.address() + block.quantity());
            });
        });
    }

    @Property
    void splittingEndsWithSingleValuesAndLosesNone(@ForAll("values") List<Value> values) {
        List<Register> registers = place(values);
        List<Block> open = new ArrayList<>(List.of(new Block(registers)));
        List<Register> single = new ArrayList<>();
        while (!open.isEmpty()) {
            Block block = open.remove(open.size() - 1);
            if (block.canSplit()) {
                open.addAll(block.split());
            } else {
                single.addAll(block.registers());
            }
        }
        assertThat(single).containsExactlyInAnyOrderElementsOf(registers);
    }

    @Provide
    Arbitrary<List<Value>> values() {
        Arbitrary<Type> types = Arbitraries.of(Type.values()).filter(type -> type != Type.BIT);
        return Combinators.combine(Arbitraries.integers().between(0, 40), types)
                .as(Value::new)
                .list()
                .ofMinSize(1)
                .ofMaxSize(80);
    }

    private static List<Register> place(List<Value> values) {
        List<Register> registers = new ArrayList<>();
        int address = 0;
        for (Value value : values) {
            address += value.gapBefore();
            RegisterLayout layout = new RegisterLayout(Table.INPUT, address, value.type(), WordOrder.LOW_FIRST);
            registers.add(new Register("input/" + address, layout));
            address = layout.end();
        }
        return registers;
    }
}
