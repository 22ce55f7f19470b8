package io.loopwarden.watch;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import java.util.Set;
import java.util.regex.Pattern;

/** How much of a point's past the watch keeps. */
enum Watched {
    /** A quarter of an hour, second by second: what decides whether the unit stands still. */
    CLOSELY,
    /** As closely, to stand in for another sensor; it decides nothing as long as that one is well. */
    SPARE,
    /** Two minutes, to average. */
    AVERAGED,
    /** The newest sample. */
    NOT;

    private static final Set<PointName> CLOSE = Set.of(
            Points.TCS_SUPPLY_TEMPERATURE,
            Points.TCS_RETURN_TEMPERATURE,
            Points.FWS_SUPPLY_TEMPERATURE,
            Points.FWS_RETURN_TEMPERATURE,
            Points.TCS_FLOW,
            Points.FWS_FLOW,
            Points.FWS_VALVE_POSITION,
            Points.FWS_DP);

    private static final Set<PointName> SPARES =
            Set.of(Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT, Points.TCS_RETURN_TEMPERATURE_REDUNDANT);

    private static final Set<PointName> AVERAGE = Set.of(
            Points.TCS_DP,
            Points.TCS_DP_SETPOINT,
            Points.APPROACH_SETPOINT,
            Points.FWS_STRAINER_DP,
            Points.TCS_RETURN_PRESSURE,
            Points.TCS_RETURN_FLOW,
            Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT,
            Points.TCS_RETURN_TEMPERATURE_REDUNDANT,
            Points.RESERVOIR_LEVEL,
            Points.COOLANT_CONDUCTIVITY,
            Points.COOLANT_PH);

    private static final Pattern NUMBERED = Pattern.compile(
            "tcs\\.filter\\.\\d+\\.dp|pump\\.\\d+\\.(speed|power|dp)|exchanger\\.\\d+\\.(tcs|fws)\\.dp");

    static Watched of(PointName point) {
        if (CLOSE.contains(point)) {
            return CLOSELY;
        }
        if (SPARES.contains(point)) {
            return SPARE;
        }
        return AVERAGE.contains(point) || NUMBERED.matcher(point.value()).matches() ? AVERAGED : NOT;
    }
}
