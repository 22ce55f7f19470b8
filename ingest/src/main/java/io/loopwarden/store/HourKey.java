package io.loopwarden.store;

/** One hour of one unit; the span that a frame never crosses and that roll-ups are made for. */
record HourKey(int unitId, long hourNs) {}
