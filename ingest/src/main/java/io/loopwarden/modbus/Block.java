package io.loopwarden.modbus;

import io.loopwarden.pointmap.RegisterLayout.Table;
import java.util.List;
import java.util.Objects;

/**
 * Neighbouring values that one request reads.
 *
 * @param registers whole values only, by address, not overlapping; at least one
 */
record Block(List<Register> registers) {

    Block {
        registers = List.copyOf(Objects.requireNonNull(registers, "registers"));
        if (registers.isEmpty()) {
            throw new IllegalArgumentException("a block reads at least one register");
        }
    }

    Table table() {
        return registers.get(0).layout().table();
    }

    int address() {
        return registers.get(0).layout().address();
    }

    /** Registers, or bits, from the first value to the end of the last. */
    int quantity() {
        return registers.get(registers.size() - 1).layout().end() - address();
    }

    boolean readsBits() {
        return table() == Table.COIL || table() == Table.DISCRETE;
    }

    /** Bytes of data that a right answer has. */
    int answerBytes() {
        return readsBits() ? (quantity() + 7) / 8 : 2 * quantity();
    }

    boolean canSplit() {
        return registers.size() > 1;
    }

    /** Two blocks with the same values, parted at the widest gap, as a device refuses gaps first; else in the middle. */
    List<Block> split() {
        int at = registers.size() / 2;
        for (int i = 1; i < registers.size(); i++) {
            if (gapBefore(i) > gapBefore(at)) {
                at = i;
            }
        }
        return List.of(new Block(registers.subList(0, at)), new Block(registers.subList(at, registers.size())));
    }

    private int gapBefore(int index) {
        return registers.get(index).layout().address()
                - registers.get(index - 1).layout().end();
    }
}
