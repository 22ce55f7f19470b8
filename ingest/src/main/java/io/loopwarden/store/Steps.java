package io.loopwarden.store;

/** Bucket lengths that fit into minutes, hours or days without a rest, so that roll-ups can be joined to them. */
final class Steps {

    private static final long[] BELOW_A_DAY_NS = below();

    private Steps() {}

    private static long[] below() {
        long ms = 1_000_000L;
        long s = Times.SECOND_NS;
        long min = Times.MINUTE_NS;
        long h = Times.HOUR_NS;
        return new long[] {
            ms, 2 * ms, 5 * ms, 10 * ms, 20 * ms, 50 * ms, 100 * ms, 200 * ms, 500 * ms, s, 2 * s, 5 * s, 10 * s,
            15 * s, 20 * s, 30 * s, min, 2 * min, 3 * min, 4 * min, 5 * min, 6 * min, 10 * min, 12 * min, 15 * min,
            20 * min, 30 * min, h, 2 * h, 3 * h, 4 * h, 6 * h, 8 * h, 12 * h
        };
    }

    /** The shortest step that is not below the given length. */
    static long atLeast(long ns) {
        for (long step : BELOW_A_DAY_NS) {
            if (step >= ns) {
                return step;
            }
        }
        return (ns + Times.DAY_NS - 1) / Times.DAY_NS * Times.DAY_NS;
    }
}
