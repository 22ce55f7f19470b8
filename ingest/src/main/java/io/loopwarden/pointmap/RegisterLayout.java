package io.loopwarden.pointmap;

import java.util.Objects;

/**
 * Where and how a Modbus value lies.
 *
 * @param address zero-based, as on the wire: "40001" in a manual is holding address 0
 * @param wordOrder which of the 16-bit words of a longer value comes first
 */
public record RegisterLayout(Table table, int address, Type type, WordOrder wordOrder) {

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
        if (address < 0 || address + type.registers() > 65536) {
            throw new IllegalArgumentException("register address " + address + " is not in 0 to 65535");
        }
        boolean bitTable = table == Table.COIL || table == Table.DISCRETE;
        if (bitTable != (type == Type.BIT)) {
            throw new IllegalArgumentException(type + " cannot be read from table " + table);
        }
    }
}
