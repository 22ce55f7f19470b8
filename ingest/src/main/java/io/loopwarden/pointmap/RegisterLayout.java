package io.loopwarden.pointmap;

import java.util.Objects;
import java.util.Set;

/**
 * Where and how a Modbus value lies.
 *
 * @param address zero-based, as on the wire: "40001" in a manual is holding address 0
 * @param wordOrder which of the 16-bit words of a longer value comes first
 * @param noValueBits the supplier's markers for "no value", as the bits of the value in the order of {@code wordOrder}
 */
public record RegisterLayout(Table table, int address, Type type, WordOrder wordOrder, Set<Long> noValueBits) {

    public enum Table {
        HOLDING,
        INPUT,
        COIL,
        DISCRETE
    }

    public enum Type {
        BIT(1),
        INT16(1),
        UINT16(1),
        INT32(2),
        UINT32(2),
        FLOAT32(2),
        INT64(4),
        UINT64(4),
        FLOAT64(4);

        private final int registers;

        Type(int registers) {
            this.registers = registers;
        }

        /** How many 16-bit registers, or single bits, a value takes. */
        public int registers() {
            return registers;
        }
    }

    public enum WordOrder {
        HIGH_FIRST,
        LOW_FIRST
    }

    public RegisterLayout {
        Objects.requireNonNull(table, "table");
        Objects.requireNonNull(type, "type");
        Objects.requireNonNull(wordOrder, "wordOrder");
        noValueBits = Set.copyOf(noValueBits);
        if (address < 0 || address + type.registers() > 65536) {
            throw new IllegalArgumentException("register address " + address + " is not in 0 to 65535");
        }
        boolean bitTable = table == Table.COIL || table == Table.DISCRETE;
        if (bitTable != (type == Type.BIT)) {
            throw new IllegalArgumentException(type + " cannot be read from table " + table);
        }
    }

    /** A layout without markers. */
    public RegisterLayout(Table table, int address, Type type, WordOrder wordOrder) {
        this(table, address, type, wordOrder, Set.of());
    }

    /** The address after the last one the value takes. */
    public int end() {
        return address + type.registers();
    }
}
