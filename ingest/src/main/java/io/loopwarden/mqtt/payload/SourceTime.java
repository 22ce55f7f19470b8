package io.loopwarden.mqtt.payload;

import java.time.Instant;

/** Which times a source may state: what the calendar of a store can hold. How far off our clock is judged later. */
final class SourceTime {

    private static final Instant EARLIEST = Instant.EPOCH;
    private static final Instant LATEST = Instant.parse("9999-12-31T23:59:59Z");

    private SourceTime() {}

    static boolean isUsable(Instant time) {
        return !time.isBefore(EARLIEST) && !time.isAfter(LATEST);
    }
}
