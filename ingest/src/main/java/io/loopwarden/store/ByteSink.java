package io.loopwarden.store;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.Arrays;

/** A growing byte array with the few number forms that frames and COPY need. */
final class ByteSink {

    private static final VarHandle SHORT_BE = view(short[].class, ByteOrder.BIG_ENDIAN);
    private static final VarHandle INT_BE = view(int[].class, ByteOrder.BIG_ENDIAN);
    private static final VarHandle LONG_BE = view(long[].class, ByteOrder.BIG_ENDIAN);
    private static final VarHandle LONG_LE = view(long[].class, ByteOrder.LITTLE_ENDIAN);

    private byte[] bytes;
    private int size;

    ByteSink(int capacity) {
        bytes = new byte[capacity];
    }

    private static VarHandle view(Class<?> type, ByteOrder order) {
        return MethodHandles.byteArrayViewVarHandle(type, order);
    }

    int size() {
        return size;
    }

    /** The backing array; valid up to {@link #size()} and until the next write. */
    byte[] array() {
        return bytes;
    }

    byte[] toArray() {
        return Arrays.copyOf(bytes, size);
    }

    void clear() {
        size = 0;
    }

    void ensure(int more) {
        if (bytes.length - size < more) {
            bytes = Arrays.copyOf(bytes, Math.max(bytes.length * 2, size + more));
        }
    }

    void u8(int value) {
        ensure(1);
        bytes[size++] = (byte) value;
    }

    void int16(int value) {
        ensure(2);
        SHORT_BE.set(bytes, size, (short) value);
        size += 2;
    }

    void int32(int value) {
        ensure(4);
        INT_BE.set(bytes, size, value);
        size += 4;
    }

    void int32At(int position, int value) {
        INT_BE.set(bytes, position, value);
    }

    void int64(long value) {
        ensure(8);
        LONG_BE.set(bytes, size, value);
        size += 8;
    }

    void int64LittleEndian(long value) {
        ensure(8);
        LONG_LE.set(bytes, size, value);
        size += 8;
    }

    /** The low {@code count} bytes, lowest first. */
    void lowBytes(long value, int count) {
        ensure(count);
        for (int i = 0; i < count; i++) {
            bytes[size++] = (byte) (value >>> (8 * i));
        }
    }

    /** Seven bits a byte, lowest first, for numbers taken as unsigned. */
    void varint(long value) {
        ensure(10);
        long rest = value;
        while ((rest & ~0x7FL) != 0) {
            bytes[size++] = (byte) (rest | 0x80);
            rest >>>= 7;
        }
        bytes[size++] = (byte) rest;
    }

    /** A signed number, small when near zero. */
    void zigzag(long value) {
        varint((value << 1) ^ (value >> 63));
    }

    void bytes(byte[] source, int from, int length) {
        ensure(length);
        System.arraycopy(source, from, bytes, size, length);
        size += length;
    }
}
