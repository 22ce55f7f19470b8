package io.loopwarden.modbus;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.pointmap.RegisterLayout;
import io.loopwarden.pointmap.RegisterLayout.Table;
import io.loopwarden.pointmap.RegisterLayout.Type;
import io.loopwarden.pointmap.RegisterLayout.WordOrder;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class BlockPlanTest {

    private static final ModbusSettings LIMITS = TestMaps.settings();

    /** Blocks are written table/address+quantity. */
    @ParameterizedTest(name = "{0}")
    @CsvSource(textBlock = """
            # case,                       values,                                  blocks
            one value,                    h0:INT16,                                HOLDING/0+1
            neighbours become one,        h0:INT16 h1:FLOAT32 h3:INT64,            HOLDING/0+7
            order of the map is nothing,  h3:INT64 h0:INT16 h1:FLOAT32,            HOLDING/0+7
            a gap of 8 is read along,     h0:INT16 h9:INT16,                       HOLDING/0+10
            a gap of 9 is not,            h0:INT16 h10:INT16,                      HOLDING/0+1 HOLDING/10+1
            tables stay apart,            h0:INT16 i1:INT16 c0:BIT d1:BIT,         HOLDING/0+1 INPUT/1+1 COIL/0+1 DISCRETE/1+1
            a gap of 64 bits is read,     c0:BIT c65:BIT,                          COIL/0+66
            a gap of 65 bits is not,      c0:BIT c66:BIT,                          COIL/0+1 COIL/66+1
            the last registers,           h65532:INT64,                            HOLDING/65532+4
            """)
    void mergesNeighbours(String name, String values, String blocks) {
        List<Register> registers =
                Stream.of(values.split(" ")).map(BlockPlanTest::register).toList();
        assertThat(written(BlockPlan.of(registers, LIMITS))).isEqualTo(blocks);
    }

    @Test
    void blockEndsBeforeTheLimitAndNeverWithinAValue() {
        List<Register> floats = IntStream.range(0, 100)
                .mapToObj(i -> register("h" + 2 * i + ":FLOAT32"))
                .toList();
        assertThat(written(BlockPlan.of(floats, LIMITS))).isEqualTo("HOLDING/0+124 HOLDING/124+76");
    }

    @Test
    void bitsEndAtTheirOwnLimit() {
        List<Register> coils = IntStream.range(0, 2001)
                .mapToObj(i -> register("c" + i + ":BIT"))
                .toList();
        assertThat(written(BlockPlan.of(coils, LIMITS))).isEqualTo("COIL/0+2000 COIL/2000+1");
    }

    @Test
    void smallerLimitOfADeviceIsKept() {
        List<Register> words = IntStream.range(0, 10)
                .mapToObj(i -> register("i" + i + ":UINT16"))
                .toList();
        assertThat(written(BlockPlan.of(words, TestMaps.settings("max-registers", "4"))))
                .isEqualTo("INPUT/0+4 INPUT/4+4 INPUT/8+2");
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(textBlock = """
            # values,                                parts
            h0:INT16 h1:INT16 h5:INT16 h6:INT16,     HOLDING/0+2 HOLDING/5+2
            h0:INT16 h4:INT16 h5:INT16 h6:INT16,     HOLDING/0+1 HOLDING/4+3
            h0:INT16 h1:INT16 h2:INT16 h3:INT16,     HOLDING/0+2 HOLDING/2+2
            h0:FLOAT32 h2:INT16,                     HOLDING/0+2 HOLDING/2+1
            """)
    void splitsAtTheWidestGapElseInTheMiddle(String values, String parts) {
        Block block = new Block(
                Stream.of(values.split(" ")).map(BlockPlanTest::register).toList());
        assertThat(written(block.split())).isEqualTo(parts);
    }

    static Register register(String written) {
        Table table = Stream.of(Table.values())
                .filter(one -> one.name().toLowerCase(java.util.Locale.ROOT).charAt(0) == written.charAt(0))
                .findFirst()
                .orElseThrow();
        int address = Integer.parseInt(written.substring(1, written.indexOf(':')));
        Type type = Type.valueOf(written.substring(written.indexOf(':') + 1));
        return new Register(written, new RegisterLayout(table, address, type, WordOrder.HIGH_FIRST));
    }

    private static String written(List<Block> blocks) {
        return String.join(
                " ",
                blocks.stream()
                        .map(block -> block.table() + "/" + block.address() + "+" + block.quantity())
                        .toList());
    }
}
