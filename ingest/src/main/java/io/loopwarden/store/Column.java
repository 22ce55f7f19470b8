package io.loopwarden.store;

import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import java.util.Arrays;

/** Samples of one point as parallel arrays: time, what kind of value, its 64 bits, quality. Reused, so that writing makes no garbage. */
final class Column {

    static final byte WHOLE = 0;
    static final byte DECIMAL = 1;
    static final byte NONE = 2;

    private static final Quality.Level[] LEVELS = Quality.Level.values();

    int size;
    long[] timeNs;
    byte[] kind;
    long[] bits;
    /** Level in bits 32 and 33, the protocol's code below; 0 is good without a code. */
    long[] quality;

    Column() {
        this(4);
    }

    Column(int capacity) {
        timeNs = new long[capacity];
        kind = new byte[capacity];
        bits = new long[capacity];
        quality = new long[capacity];
    }

    void clear() {
        size = 0;
    }

    void ensure(int capacity) {
        if (capacity > timeNs.length) {
            int grown = Math.max(capacity, timeNs.length * 2);
            timeNs = Arrays.copyOf(timeNs, grown);
            kind = Arrays.copyOf(kind, grown);
            bits = Arrays.copyOf(bits, grown);
            quality = Arrays.copyOf(quality, grown);
        }
    }

    void add(long sampleNs, RawValue raw, Quality sampleQuality) {
        add(sampleNs, kindOf(raw), bitsOf(raw), packed(sampleQuality));
    }

    void add(long sampleNs, byte sampleKind, long sampleBits, long packedQuality) {
        ensure(size + 1);
        timeNs[size] = sampleNs;
        kind[size] = sampleKind;
        bits[size] = sampleBits;
        quality[size] = packedQuality;
        size++;
    }

    void addAll(Column other) {
        ensure(size + other.size);
        System.arraycopy(other.timeNs, 0, timeNs, size, other.size);
        System.arraycopy(other.kind, 0, kind, size, other.size);
        System.arraycopy(other.bits, 0, bits, size, other.size);
        System.arraycopy(other.quality, 0, quality, size, other.size);
        size += other.size;
    }

    RawValue raw(int i) {
        if (kind[i] == NONE) {
            return RawValue.NONE;
        }
        return kind[i] == WHOLE ? RawValue.of(bits[i]) : RawValue.of(Double.longBitsToDouble(bits[i]));
    }

    /** The value as the source's number; meaningless for a sample without one. */
    double rawNumber(int i) {
        return kind[i] == WHOLE ? (double) bits[i] : Double.longBitsToDouble(bits[i]);
    }

    Quality quality(int i) {
        return unpacked(quality[i]);
    }

    boolean isBad(int i) {
        return quality[i] >>> 32 == Quality.Level.BAD.ordinal();
    }

    boolean isGood(int i) {
        return quality[i] >>> 32 == Quality.Level.GOOD.ordinal();
    }

    static byte kindOf(RawValue raw) {
        if (raw instanceof RawValue.Decimal) {
            return DECIMAL;
        }
        return raw instanceof RawValue.Whole ? WHOLE : NONE;
    }

    static long bitsOf(RawValue raw) {
        if (raw instanceof RawValue.Decimal decimal) {
            return Double.doubleToRawLongBits(decimal.value());
        }
        return raw instanceof RawValue.Whole whole ? whole.value() : 0;
    }

    static long packed(Quality quality) {
        return (long) quality.level().ordinal() << 32 | quality.code();
    }

    static Quality unpacked(long packed) {
        return packed == 0 ? Quality.GOOD : new Quality(LEVELS[(int) (packed >>> 32)], packed & 0xFFFF_FFFFL);
    }

    /** Puts the samples in order of time; equal times keep their order. Costs nothing where they are in order already. */
    void sortByTime() {
        boolean rising = true;
        for (int i = 1; i < size && rising; i++) {
            rising = timeNs[i - 1] <= timeNs[i];
        }
        if (rising) {
            return;
        }
        Integer[] order = new Integer[size];
        Arrays.setAll(order, i -> i);
        Arrays.sort(order, (a, b) -> Long.compare(timeNs[a], timeNs[b]));
        Column sorted = new Column(size);
        for (int i : order) {
            sorted.add(timeNs[i], kind[i], bits[i], quality[i]);
        }
        timeNs = sorted.timeNs;
        kind = sorted.kind;
        bits = sorted.bits;
        quality = sorted.quality;
    }
}
