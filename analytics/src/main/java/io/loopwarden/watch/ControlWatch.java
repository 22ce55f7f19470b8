package io.loopwarden.watch;

import io.loopwarden.control.ControlState;
import io.loopwarden.control.HourTrace;
import io.loopwarden.control.LoopTrace;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/** Looks at the last minutes of a unit's control loops twice a minute, at the last hour every five. */
final class ControlWatch {

    private static final Pattern SPEED = Pattern.compile("pump\\.\\d+\\.speed");

    private static final long EVERY_S = 30;
    private static final long SLOW_EVERY_S = 300;

    private ControlState state = ControlState.UNSEEN;
    private long lookedAtS = Long.MIN_VALUE;
    private long slowAtS = Long.MIN_VALUE;

    static boolean follows(PointName point) {
        return point == Points.FWS_VALVE_POSITION
                || point == Points.FWS_VALVE_COMMAND
                || point == Points.TCS_SUPPLY_TEMPERATURE
                || point == Points.FWS_SUPPLY_TEMPERATURE
                || point == Points.TCS_DP
                || point == Points.FWS_DP
                || SPEED.matcher(point.value()).matches();
    }

    /** What was last looked at. */
    ControlState state() {
        return state;
    }

    /** How the loops behave, as of the last half minute. */
    ControlState state(Map<PointName, PointState> states, Instant at) {
        long due = Math.floorDiv(at.getEpochSecond(), EVERY_S) * EVERY_S;
        if (due != lookedAtS) {
            lookedAtS = due;
            long slow = Math.floorDiv(due, SLOW_EVERY_S);
            look(states, due, slow != slowAtS);
            slowAtS = slow;
        }
        return state;
    }

    private void look(Map<PointName, PointState> states, long atS, boolean slow) {
        List<HourTrace> speeds = new ArrayList<>();
        states.forEach((point, s) -> {
            if (SPEED.matcher(point.value()).matches()) {
                s.hour().ifPresent(speeds::add);
            }
        });
        state = state.next(
                new LoopTrace(
                        trace(states, Points.FWS_VALVE_POSITION),
                        trace(states, Points.FWS_VALVE_COMMAND),
                        speeds,
                        trace(states, Points.TCS_SUPPLY_TEMPERATURE),
                        trace(states, Points.FWS_SUPPLY_TEMPERATURE),
                        trace(states, Points.TCS_DP),
                        trace(states, Points.FWS_DP)),
                atS,
                slow);
    }

    /** A sensor that is not believed is not followed. */
    private static Optional<HourTrace> trace(Map<PointName, PointState> states, PointName point) {
        PointState state = states.get(point);
        return state == null || state.trust().isFailed() ? Optional.empty() : state.hour();
    }
}
