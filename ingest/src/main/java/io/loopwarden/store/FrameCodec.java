package io.loopwarden.store;

/**
 * The stored form of a frame: samples of one unit within one hour, point by point. Version 1:
 *
 * <pre>
 * head       byte      bits 7..5 version, 4 qualities, 3 several time lists, 2 directory, 1..0 time unit: s, ms, µs, ns
 * columns    varint    as many as the layout has
 * lists      varint    only with several time lists
 *   each: count varint, first time varint, then {@link IntegerBlocks} of the steps between times;
 *         times in the time unit after the frame's start, which stands in the row, in µs
 * qualities  varint    only with bit 4; each: byte level + 4 if it stands for "no value", then code varint
 * forms      bytes     one for each column: bits 4..0 {@link NumberForm}, 5 has qualities, 7 a varint with the number of
 *                      further columns of the same form follows
 * lists used varint    for each column present; only with several time lists
 * directory  varint    length in bytes of each column present; only with bit 2
 * columns:   with bit 5: runs varint, each: length varint, quality varint;
 *            values, those without a value left out: one alone as zigzag varint (8 or 4 plain bytes for bits of doubles or
 *            singles), else {@link IntegerBlocks}; mixed: a bit for each that is a double, then the blocks
 * </pre>
 *
 * Nothing is rounded. A column can be passed over without making its values.
 */
final class FrameCodec {

    static final int VERSION = 1;
    static final int QUALITIES = 1 << 4;
    static final int SEVERAL_LISTS = 1 << 3;
    static final int DIRECTORY = 1 << 2;
    static final int TIME_UNIT = 3;
    static final int VERSION_SHIFT = 5;

    static final int FORM = 0x1F;
    static final int HAS_QUALITY = 1 << 5;
    static final int REPEATED = 1 << 7;

    static final int NO_VALUE = 4;

    /** A frame with more times than this carries a directory. */
    static final int DIRECTORY_FROM = 16;

    static final int MOST_COLUMNS = 4096;
    static final int MOST_TIMES = 1 << 24;

    /** Nanoseconds of one step of each time unit. */
    static final long[] UNIT_NS = {1_000_000_000L, 1_000_000L, 1_000L, 1L};

    private FrameCodec() {}
}
