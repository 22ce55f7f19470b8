package io.loopwarden.store;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;

/** Times as nanoseconds since 1970 UTC in a long, and the hours they lie in. Good for the years 2000 to 2099. */
final class Times {

    static final long SECOND_NS = 1_000_000_000L;
    static final long MINUTE_NS = 60 * SECOND_NS;
    static final long HOUR_NS = 60 * MINUTE_NS;
    static final long DAY_NS = 24 * HOUR_NS;

    static final Instant EARLIEST = Instant.parse("2000-01-01T00:00:00Z");
    static final Instant LATEST = Instant.parse("2100-01-01T00:00:00Z");
    static final long OUTSIDE = Long.MIN_VALUE;

    private static final long EARLIEST_S = EARLIEST.getEpochSecond();
    private static final long LATEST_S = LATEST.getEpochSecond();

    private Times() {}

    /** Nanoseconds since 1970, or {@link #OUTSIDE} for a time that the store does not hold. */
    static long ns(Instant time) {
        long second = time.getEpochSecond();
        return second < EARLIEST_S || second >= LATEST_S ? OUTSIDE : second * SECOND_NS + time.getNano();
    }

    /** As {@link #ns}, with times outside moved to the nearest end: for the ends of a range that is asked for. */
    static long nsWithin(Instant time) {
        long ns = ns(time);
        if (ns != OUTSIDE) {
            return ns;
        }
        return time.isBefore(EARLIEST) ? EARLIEST_S * SECOND_NS : LATEST_S * SECOND_NS;
    }

    static Instant instant(long ns) {
        return Instant.ofEpochSecond(Math.floorDiv(ns, SECOND_NS), Math.floorMod(ns, SECOND_NS));
    }

    static long hourOf(long ns) {
        return ns - Math.floorMod(ns, HOUR_NS);
    }

    static long microsBelow(long ns) {
        return Math.floorDiv(ns, 1000L);
    }

    static long microsAbove(long ns) {
        return -Math.floorDiv(-ns, 1000L);
    }

    /** For a query parameter. */
    static OffsetDateTime sql(long ns) {
        return OffsetDateTime.ofInstant(instant(ns), ZoneOffset.UTC);
    }

    static long ns(OffsetDateTime time) {
        return time.toEpochSecond() * SECOND_NS + time.getNano();
    }
}
