package io.loopwarden.store;

/** Which database keeps the samples. Fixed when the schema is made. */
public enum Flavour {
    /** Native range partitions, made ahead and dropped by the store itself. */
    PLAIN,
    /** Hypertables, compressed and dropped by the extension's policies. */
    TIMESCALE
}
