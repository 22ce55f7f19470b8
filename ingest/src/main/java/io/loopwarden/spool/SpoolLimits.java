package io.loopwarden.spool;

/**
 * Bounds of a spool.
 *
 * @param mostBytes what it may take on disk; beyond that it refuses
 * @param segmentBytes a file is closed once it is larger; whole files are deleted when they are drained
 */
public record SpoolLimits(long mostBytes, int segmentBytes) {

    private static final int SEGMENT_BYTES = 8 << 20;

    public SpoolLimits {
        if (segmentBytes < 1 || mostBytes < segmentBytes) {
            throw new IllegalArgumentException("the spool may take " + mostBytes + " bytes in segments of "
                    + segmentBytes + "; the first must be at least the second");
        }
    }

    public static SpoolLimits of(long mostBytes) {
        return new SpoolLimits(mostBytes, SEGMENT_BYTES);
    }
}
