package io.loopwarden.samplelog;

/**
 * What became of samples given to the store.
 *
 * @param stored new samples, late ones included
 * @param duplicate already there with the same value and quality
 * @param conflict another value or quality was already there for the point and time; the first one stays
 * @param late of the stored ones, those older than a newer sample of their point
 * @param refused source time outside of what the store can hold
 */
public record StoredCounts(long stored, long duplicate, long conflict, long late, long refused) {

    public static final StoredCounts NONE = new StoredCounts(0, 0, 0, 0, 0);

    public StoredCounts plus(StoredCounts other) {
        return new StoredCounts(
                stored + other.stored,
                duplicate + other.duplicate,
                conflict + other.conflict,
                late + other.late,
                refused + other.refused);
    }
}
