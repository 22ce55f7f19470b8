package io.loopwarden.alarm;

/** How bad it gets if nobody acts in time. */
public enum Severity {
    /** Money or spare capacity; no heat is left in the racks. */
    MINOR,
    /** A unit loses its promise or its redundancy; racks still run. */
    MAJOR,
    /** Racks lose cooling, or coolant reaches electrical equipment. */
    SEVERE
}
