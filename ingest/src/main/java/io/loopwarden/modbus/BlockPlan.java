package io.loopwarden.modbus;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;

/** Merges values into few requests: never beyond the protocol's limit, never through the middle of a value. */
final class BlockPlan {

    private BlockPlan() {}

    /** Blocks that together hold every value once, by table and address. */
    static List<Block> of(Collection<Register> registers, ModbusSettings limits) {
        List<Register> sorted = registers.stream()
                .sorted(Comparator.comparing((Register one) -> one.layout().table())
                        .thenComparing(one -> one.layout().address()))
                .toList();
        List<Block> blocks = new ArrayList<>();
        List<Register> open = new ArrayList<>();
        for (Register next : sorted) {
            if (!open.isEmpty() && !fits(new Block(open), next, limits)) {
                blocks.add(new Block(open));
                open.clear();
            }
            open.add(next);
        }
        if (!open.isEmpty()) {
            blocks.add(new Block(open));
        }
        return blocks;
    }

    private static boolean fits(Block open, Register next, ModbusSettings limits) {
        int most = open.readsBits() ? limits.maxBits() : limits.maxRegisters();
        int bridge = open.readsBits() ? limits.bridgeBits() : limits.bridgeRegisters();
        int end = open.address() + open.quantity();
        return next.layout().table() == open.table()
                && next.layout().address() >= end
                && next.layout().address() - end <= bridge
                && next.layout().end() - open.address() <= most;
    }
}
