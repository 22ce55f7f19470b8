package io.loopwarden.store;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/** Reads what {@link ByteSink} wrote; a read beyond the end says so instead of giving wrong numbers. */
final class ByteSource {

    private static final VarHandle LONG_LE =
            MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.LITTLE_ENDIAN);

    private byte[] bytes = {};
    private int position;
    private int end;

    void open(byte[] source, int from, int length) {
        bytes = source;
        position = from;
        end = from + length;
    }

    int position() {
        return position;
    }

    void seek(int newPosition) {
        if (newPosition < 0 || newPosition > end) {
            throw new CorruptFrameException("position " + newPosition + " is beyond the end " + end);
        }
        position = newPosition;
    }

    int u8() {
        need(1);
        return bytes[position++] & 0xFF;
    }

    long lowBytes(int count) {
        need(count);
        long value = 0;
        for (int i = 0; i < count; i++) {
            value |= (bytes[position++] & 0xFFL) << (8 * i);
        }
        return value;
    }

    long varint() {
        long value = 0;
        for (int shift = 0; shift < 64; shift += 7) {
            int next = u8();
            value |= (long) (next & 0x7F) << shift;
            if (next < 0x80) {
                return value;
            }
        }
        throw new CorruptFrameException("number of more than 64 bits at " + position);
    }

    /** A varint that must be 0 to {@code most}: a length or an index. */
    int count(int most) {
        long value = varint();
        if (value < 0 || value > most) {
            throw new CorruptFrameException("count " + value + " at " + position + " is not in 0 to " + most);
        }
        return (int) value;
    }

    long zigzag() {
        long value = varint();
        return (value >>> 1) ^ -(value & 1);
    }

    /** The {@code index}th number of {@code width} bits in the packed numbers that start here; does not move. */
    long packed(int index, int width) {
        long bit = (long) index * width;
        int at = position + (int) (bit >>> 3);
        int shift = (int) (bit & 7);
        long low = longAt(at) >>> shift;
        if (shift + width > 64) {
            low |= (long) (bytes[at + 8] & 0xFF) << (64 - shift);
        }
        return width == 64 ? low : low & ((1L << width) - 1);
    }

    private long longAt(int at) {
        if (at + 8 <= bytes.length) {
            return (long) LONG_LE.get(bytes, at);
        }
        long value = 0;
        for (int i = 0; at + i < bytes.length; i++) {
            value |= (bytes[at + i] & 0xFFL) << (8 * i);
        }
        return value;
    }

    void skip(int count) {
        need(count);
        position += count;
    }

    void need(int count) {
        if (count < 0 || end - position < count) {
            throw new CorruptFrameException("ends at " + end + ", needs " + count + " bytes from " + position);
        }
    }
}
