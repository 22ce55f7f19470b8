package io.loopwarden.alarm;

import java.time.Duration;

/**
 * When alarms are one incident.
 *
 * @param leastUnits a hall's incident needs at least so many units
 * @param leastShare and at least this share of the hall's units
 * @param together raised within this time of each other
 * @param joins so long after it began, an incident takes in alarms that may be its consequences
 * @param settles an incident without a standing alarm is over after this long; until then what comes back belongs to it
 */
public record GroupingSettings(int leastUnits, double leastShare, Duration together, Duration joins, Duration settles) {

    /** Common practice, no source. */
    public static final GroupingSettings DEFAULT =
            new GroupingSettings(3, 0.5, Duration.ofMinutes(5), Duration.ofMinutes(30), Duration.ofMinutes(10));
}
