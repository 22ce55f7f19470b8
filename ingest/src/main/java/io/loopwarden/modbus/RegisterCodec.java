package io.loopwarden.modbus;

import io.loopwarden.fleet.RawValue;
import io.loopwarden.pointmap.RegisterLayout;
import io.loopwarden.pointmap.RegisterLayout.Type;
import io.loopwarden.pointmap.RegisterLayout.WordOrder;

/** From the bytes of an answer to a value. Bytes within a register are big-endian (V1.1b3, 4.2); the order of words is the map's. */
final class RegisterCodec {

    private static final int WORD_BITS = 16;

    private RegisterCodec() {}

    /**
     * The value of {@code layout} in the answer to a request that began at address {@code from}; {@link RawValue#NONE} for the
     * supplier's marker, and for NaN and infinity.
     */
    static RawValue decode(byte[] answer, int from, RegisterLayout layout) {
        int at = layout.address() - from;
        if (layout.type() == Type.BIT) {
            return RawValue.of((answer[at / 8] >> (at % 8) & 1) == 1);
        }
        long bits = bits(answer, 2 * at, layout);
        return layout.noValueBits().contains(bits) ? RawValue.NONE : value(bits, layout.type());
    }

    /** The value's bits, its most significant word first, in the low end of the answer. */
    private static long bits(byte[] answer, int at, RegisterLayout layout) {
        int words = layout.type().registers();
        long bits = 0;
        for (int i = 0; i < words; i++) {
            int word = layout.wordOrder() == WordOrder.HIGH_FIRST ? i : words - 1 - i;
            bits = bits << WORD_BITS | (answer[at + 2 * word] & 0xFF) << 8 | answer[at + 2 * word + 1] & 0xFF;
        }
        return bits;
    }

    private static RawValue value(long bits, Type type) {
        return switch (type) {
            case INT16 -> RawValue.of((long) (short) bits);
            case INT32 -> RawValue.of((long) (int) bits);
            case UINT16, UINT32, INT64, UINT64 -> RawValue.of(bits);
            case FLOAT32 -> decimal(Float.intBitsToFloat((int) bits));
            case FLOAT64 -> decimal(Double.longBitsToDouble(bits));
            case BIT -> throw new IllegalArgumentException("a bit has no registers");
        };
    }

    private static RawValue decimal(double value) {
        return Double.isFinite(value) ? RawValue.of(value) : RawValue.NONE;
    }
}
