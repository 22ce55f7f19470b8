package io.loopwarden.collector;

/** Why an input was refused. */
public enum RejectReason {
    /** The tag is in no point map of that unit. */
    UNKNOWN_TAG,
    /** The message names a unit that this connection does not serve. */
    UNKNOWN_UNIT,
    /** Text where a number was expected, or a number that does not fit the point. */
    WRONG_TYPE,
    /** NaN or infinite, or the supplier's marker for "no value". */
    NOT_A_NUMBER,
    /** Source time far before or after our clock. */
    TIME_FAR_OFF,
    /** Larger than the configured limit; not parsed. */
    PAYLOAD_TOO_LARGE,
    /** Cannot be read: cut short, not JSON, not the protocol's coding. */
    MALFORMED,
    /** The message states a unit of measure that is not known or does not fit the point. */
    UNKNOWN_UNIT_OF_MEASURE,
    /** Data under a name or alias that no birth announced, or out of sequence. */
    OUT_OF_SEQUENCE,
    /** The sample log was full for longer than the bounded wait. */
    LOG_FULL
}
