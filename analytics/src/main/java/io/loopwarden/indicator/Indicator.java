package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** One health indicator: a pure function of what was promised of a unit and what it shows. */
public interface Indicator {

    /** Stable name; used in the store, the service and the catalogue. Never reused for something else. */
    String key();

    UnitFunction function();

    /** UCUM code of the value's unit. */
    String unit();

    /** Which samples the figure rests on. */
    Basis basis();

    Computed<Estimate> evaluate(Evidence evidence);

    /** Which part of the unit decides the figure, in words such as "filter 3"; empty where it is about all of it. */
    default String subject(Evidence evidence) {
        return "";
    }

    /** Which samples a figure rests on. */
    enum Basis {
        /** The latest seconds, steady or not. */
        LATEST,
        /** The last two minutes, steady or not: for what follows a flow at once. */
        RECENT,
        /** The longest steady window that ends now. */
        STEADY
    }
}
