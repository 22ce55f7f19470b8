package io.loopwarden.spool;

/**
 * What a spool holds, and what it found wrong with its files since the service started.
 *
 * @param damages places where the checksum did not fit; each was stepped over
 * @param lostSamples samples that were in those places, as far as a later record tells
 * @param cutBytes unfinished writes cut off the end of files at start; nothing acknowledged was in them
 */
public record SpoolStatus(
        long heldSamples, long heldBytes, long mostBytes, long damages, long lostSamples, long cutBytes) {}
