package io.loopwarden.store;

import java.util.Arrays;

/** The different qualities within one frame, each with whether it stands for a sample without a value. */
final class QualityTable {

    private static final long NO_VALUE = 1L << 40;

    private long[] entries = new long[8];
    private int size;

    void clear() {
        size = 0;
    }

    boolean isEmpty() {
        return size == 0;
    }

    int indexOf(long packedQuality, boolean noValue) {
        long entry = packedQuality | (noValue ? NO_VALUE : 0);
        for (int i = 0; i < size; i++) {
            if (entries[i] == entry) {
                return i;
            }
        }
        if (size == entries.length) {
            entries = Arrays.copyOf(entries, size * 2);
        }
        entries[size] = entry;
        return size++;
    }

    long packedQuality(int index) {
        return entries[index] & ~NO_VALUE;
    }

    boolean noValue(int index) {
        return (entries[index] & NO_VALUE) != 0;
    }

    int size() {
        return size;
    }

    void write(ByteSink out) {
        out.varint(size);
        for (int i = 0; i < size; i++) {
            int level = (int) (packedQuality(i) >>> 32);
            out.u8(level | (noValue(i) ? FrameCodec.NO_VALUE : 0));
            out.varint(entries[i] & 0xFFFF_FFFFL);
        }
    }

    void read(ByteSource in) {
        int count = in.count(FrameCodec.MOST_TIMES);
        size = 0;
        for (int i = 0; i < count; i++) {
            int head = in.u8();
            int level = head & 3;
            if (level > 2 || head > (FrameCodec.NO_VALUE | 3)) {
                throw new CorruptFrameException("quality " + head);
            }
            long code = in.varint();
            if (size == entries.length) {
                entries = Arrays.copyOf(entries, size * 2);
            }
            entries[size++] =
                    (long) level << 32 | code & 0xFFFF_FFFFL | ((head & FrameCodec.NO_VALUE) != 0 ? NO_VALUE : 0);
        }
    }
}
