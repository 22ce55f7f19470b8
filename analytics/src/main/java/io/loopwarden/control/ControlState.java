package io.loopwarden.control;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * How the control loops behave, as last looked at.
 *
 * @param covered enough was seen to say that nothing oscillates
 * @param stickBand how far the valve's command runs ahead before the stem follows
 * @param driver which loop drives the others, in words; empty where nothing oscillates
 */
public record ControlState(
        boolean covered,
        Optional<Oscillation> valve,
        Optional<Oscillation> speed,
        Optional<Oscillation> facility,
        OptionalDouble stickBand,
        String driver) {

    public static final ControlState UNSEEN =
            new ControlState(false, Optional.empty(), Optional.empty(), Optional.empty(), OptionalDouble.empty(), "");

    private static final double SAME_PERIOD = 0.12;

    /** Only the long windows hold enough of it. */
    private static final double SLOW_S = 90;

    /**
     * What the trace shows at an instant.
     *
     * @param slow also the long windows, which cost a millisecond; without them slow oscillations are taken over from before
     */
    public ControlState next(LoopTrace trace, long atS, boolean slow) {
        Optional<Oscillation> nextValve = trace.valveLoop(atS, false)
                .or(() -> slow ? trace.valveLoop(atS, true) : valve.filter(ControlState::isSlow));
        Optional<Oscillation> nextSpeed = trace.pumpLoop(atS, false)
                .or(() -> slow ? trace.pumpLoop(atS, true) : speed.filter(ControlState::isSlow));
        Optional<Oscillation> nextFacility = nextValve.flatMap(v -> trace.facility(atS, isSlow(v)));
        OptionalDouble stick = slow ? trace.stickBand(atS) : stickBand;
        return new ControlState(
                trace.isCovered(atS),
                nextValve,
                nextSpeed,
                nextFacility,
                stick,
                driver(nextValve, nextSpeed, nextFacility, stick));
    }

    private static boolean isSlow(Oscillation o) {
        return o.periodS() > SLOW_S;
    }

    /** The loop that drives is where the oscillation is regular and does not come from outside. */
    private static String driver(
            Optional<Oscillation> valve,
            Optional<Oscillation> speed,
            Optional<Oscillation> facility,
            OptionalDouble stick) {
        if (valve.isEmpty()) {
            return speed.isPresent() ? "the pump speed loop alone" : "";
        }
        if (stick.isPresent()) {
            return "the facility valve, whose stem sticks"
                    + (alike(valve, speed) ? "; it drives the pump speed loop" : "");
        }
        if (alike(valve, facility)) {
            return "the facility's differential pressure, from outside the unit";
        }
        if (!alike(valve, speed)) {
            return "the facility valve's loop" + (speed.isPresent() ? ", and the pump speed loop by itself" : " alone");
        }
        return valve.orElseThrow().regularity() >= speed.orElseThrow().regularity()
                ? "the facility valve's loop drives the pump speed loop"
                : "the pump speed loop drives the facility valve's";
    }

    private static boolean alike(Optional<Oscillation> a, Optional<Oscillation> b) {
        return a.isPresent()
                && b.isPresent()
                && Math.abs(a.get().periodS() / b.get().periodS() - 1) < SAME_PERIOD;
    }

    public boolean hunts() {
        return valve.isPresent() || speed.isPresent();
    }

    /** The one with the larger amplitude, of those that hunt. */
    public Optional<Oscillation> worst() {
        return valve.isPresent() ? valve : speed;
    }

    /** What hunts, in words. */
    public String words() {
        return valve.isPresent() ? "facility valve" : speed.isPresent() ? "pump speed" : "";
    }
}
