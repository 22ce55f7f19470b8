package io.loopwarden.virtual.fault;

/** What can go wrong; the severity's unit is in the description. */
public enum FaultKind {
    /** Deposits on the FWS side of exchanger {@code target}, m2·K/W. */
    FOULING,
    /** Exchanger {@code target} gets less of the TCS flow; share lost, 0 to 1. */
    MALDISTRIBUTION,
    /** Filter {@code target} is loaded; growth of its resistance relative to clean. */
    FILTER_LOADING,
    /** Pump {@code target} loses head; share, 0 to 1. */
    PUMP_WEAR,
    /** Coolant escapes at the racks (or into the tray, with target 1), L/h. */
    LEAK,
    /** A hole between the loops, through which coolant goes either way; L/h at a pressure difference of 100 kPa. */
    PINHOLE,
    /** Somebody puts coolant in, or takes it out if negative, without the make-up's counter; L/h. */
    STAFF_POURS,
    /** The pumps hold the reservoir's level down; L at full speed. */
    SLOSHING,
    /** The facility strainer is loaded; growth of its resistance relative to clean. */
    STRAINER_BLOCKAGE,
    /** The stem of the facility valve sticks and its loop is tuned too tight, so that it hunts; sticking travel, 0 to 1. */
    HUNTING_VALVE,
    /** The stem of the facility valve sticks, its loop as it should be; sticking travel, 0 to 1. */
    STICKING_VALVE,
    /** The loop of the facility valve is tuned too tight, so that it swings by itself; gain that is added, over the right one. */
    TIGHT_VALVE_LOOP,
    /** Hoses or cold plates of the racks are blocked; share of their conductance lost, 0 to 1. */
    RACK_BLOCKAGE,
    /** Pump {@code target} draws bubbles: its head scatters; standard deviation as a share of head. */
    CAVITATION,
    /** The controller stops: no control, nothing sent. */
    LOST_CONTROLLER,
    /** The sensor of {@code point} reads beside the truth, in the point's inner unit. */
    SENSOR_OFFSET,
    /** The sensor of {@code point} gets noisy: standard deviation that is added, in the point's inner unit. */
    SENSOR_NOISY,
    /** The switch of {@code point} has a loose wire and chatters; seconds that each state lasts. */
    SENSOR_CHATTERS,
    /** The sensor of {@code point} repeats its last value while the severity is not 0. */
    SENSOR_STUCK,
    /** The sensor of {@code point} reports itself as failed while the severity is not 0. */
    SENSOR_DEAD
}
