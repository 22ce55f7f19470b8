package io.loopwarden.store;

/**
 * Whole numbers in blocks of up to 128. Each block is stored as differences from its lowest number, or as differences between
 * neighbours, whichever is smaller, in the fewest bits that hold the largest of them. Arithmetic wraps, so any 64-bit numbers
 * come back as they were.
 *
 * <p>Form of a block: one number alone: zigzag varint. Otherwise a byte with the width in bits (0 to 64) and 0x80 for
 * neighbour differences; lowest number, or first number and lowest difference, as zigzag varints; then the packed bits, lowest
 * first, filled up to a byte.
 */
final class IntegerBlocks {

    static final int BLOCK = 128;
    private static final int NEIGHBOURS = 0x80;

    private IntegerBlocks() {}

    static void write(ByteSink out, long[] values, int count) {
        for (int from = 0; from < count; from += BLOCK) {
            writeBlock(out, values, from, Math.min(BLOCK, count - from));
        }
    }

    private static void writeBlock(ByteSink out, long[] values, int from, int count) {
        if (count == 1) {
            out.zigzag(values[from]);
            return;
        }
        long low = values[from];
        long high = low;
        long lowStep = values[from + 1] - low;
        long highStep = lowStep;
        long previous = low;
        for (int i = from + 1; i < from + count; i++) {
            long value = values[i];
            low = Math.min(low, value);
            high = Math.max(high, value);
            long step = value - previous;
            lowStep = Math.min(lowStep, step);
            highStep = Math.max(highStep, step);
            previous = value;
        }
        int width = width(high - low);
        int stepWidth = width(highStep - lowStep);
        if (stepWidth * (count - 1) + Byte.SIZE < width * count) {
            out.u8(NEIGHBOURS | stepWidth);
            out.zigzag(values[from]);
            out.zigzag(lowStep);
            packSteps(out, values, from, count, lowStep, stepWidth);
        } else {
            out.u8(width);
            out.zigzag(low);
            pack(out, values, from, count, low, width);
        }
    }

    private static int width(long unsigned) {
        return Long.SIZE - Long.numberOfLeadingZeros(unsigned);
    }

    private static void pack(ByteSink out, long[] values, int from, int count, long low, int width) {
        if (width == 0) {
            return;
        }
        long pending = 0;
        int filled = 0;
        for (int i = from; i < from + count; i++) {
            long value = values[i] - low;
            pending |= value << filled;
            filled += width;
            if (filled >= Long.SIZE) {
                out.int64LittleEndian(pending);
                filled -= Long.SIZE;
                pending = filled == 0 ? 0 : value >>> (width - filled);
            }
        }
        out.lowBytes(pending, (filled + 7) / 8);
    }

    private static void packSteps(ByteSink out, long[] values, int from, int count, long lowStep, int width) {
        long[] steps = new long[count - 1];
        for (int i = 1; i < count; i++) {
            steps[i - 1] = values[from + i] - values[from + i - 1];
        }
        pack(out, steps, 0, count - 1, lowStep, width);
    }

    /** Reads {@code count} numbers into {@code into} from index {@code at} on. */
    static void read(ByteSource in, long[] into, int at, int count) {
        for (int from = 0; from < count; from += BLOCK) {
            readBlock(in, into, at + from, Math.min(BLOCK, count - from));
        }
    }

    private static void readBlock(ByteSource in, long[] into, int at, int count) {
        if (count == 1) {
            into[at] = in.zigzag();
            return;
        }
        int head = in.u8();
        int width = head & 0x7F;
        if (width > Long.SIZE) {
            throw new CorruptFrameException("width of " + width + " bits");
        }
        boolean neighbours = (head & NEIGHBOURS) != 0;
        long base = in.zigzag();
        if (neighbours) {
            long lowStep = in.zigzag();
            in.need(packedBytes(count - 1, width));
            long value = base;
            into[at] = value;
            for (int i = 1; i < count; i++) {
                value += lowStep + (width == 0 ? 0 : in.packed(i - 1, width));
                into[at + i] = value;
            }
            in.skip(packedBytes(count - 1, width));
        } else {
            in.need(packedBytes(count, width));
            for (int i = 0; i < count; i++) {
                into[at + i] = base + (width == 0 ? 0 : in.packed(i, width));
            }
            in.skip(packedBytes(count, width));
        }
    }

    /** Moves past {@code count} numbers without making them. */
    static void skip(ByteSource in, int count) {
        for (int from = 0; from < count; from += BLOCK) {
            int inBlock = Math.min(BLOCK, count - from);
            if (inBlock == 1) {
                in.varint();
                continue;
            }
            int head = in.u8();
            in.varint();
            boolean neighbours = (head & NEIGHBOURS) != 0;
            if (neighbours) {
                in.varint();
            }
            in.skip(packedBytes(neighbours ? inBlock - 1 : inBlock, head & 0x7F));
        }
    }

    private static int packedBytes(int count, int width) {
        return (count * width + 7) / 8;
    }
}
