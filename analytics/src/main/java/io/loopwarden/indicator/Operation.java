package io.loopwarden.indicator;

import io.loopwarden.availability.Condition;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Computed.Unavailable;
import io.loopwarden.statistics.Estimate;

/** What a unit does now, for its availability. */
final class Operation {

    /** Coverage factor for 95 % on one side under a normal distribution. */
    private static final double ONE_SIDED_95 = 1.6448536269514722;

    private Operation() {}

    static Condition of(Evidence evidence) {
        Hydraulics hydraulics = evidence.hydraulics();
        Nameplate nameplate = evidence.design().nameplate();
        Computed<RunningPumps> running = hydraulics.running();
        Computed<Estimate> flow = Side.TCS.runningFlow(evidence.design(), hydraulics.means());
        if (isStandstill(running) || isStandstill(flow)) {
            return Condition.DOWN;
        }
        if (!running.isAvailable() && !flow.isAvailable()) {
            return Condition.UNKNOWN;
        }
        if (isMissed(evidence)) {
            return Condition.DEGRADED;
        }
        boolean helped = running.fold(r -> r.count() > nameplate.pumpsNeeded(), gap -> false);
        return helped || !hasStandby(hydraulics, running, nameplate) ? Condition.REDUNDANCY_LOST : Condition.RUNNING;
    }

    private static boolean isStandstill(Computed<?> computed) {
        return computed instanceof Unavailable<?> gap && gap.reason() == Reason.NOT_RUNNING;
    }

    /** Rated duty out of reach, or a set point missed with an actuator at its end, with 95 % confidence. */
    private static boolean isMissed(Evidence evidence) {
        double ratedK = evidence.design().nameplate().ratedApproachK();
        boolean hot = evidence.approachAtRatedDuty()
                .fold(a -> a.value() - ONE_SIDED_95 * a.standardUncertainty() > ratedK, gap -> false);
        boolean tooLittle = Actuators.of(evidence).fold(a -> isBelowOne(a.left()), gap -> false);
        return hot || tooLittle;
    }

    private static boolean isBelowOne(Estimate ratio) {
        return ratio.value() + ONE_SIDED_95 * ratio.standardUncertainty() < 1;
    }

    /** There are more pumps than are needed, the spare one is not called bad, and as it last ran it was strong enough. */
    private static boolean hasStandby(Hydraulics hydraulics, Computed<RunningPumps> running, Nameplate n) {
        if (n.pumps() <= n.pumpsNeeded()) {
            return true;
        }
        int able = 0;
        for (int number = 1; number <= n.pumps(); number++) {
            boolean speaks = hydraulics
                    .means()
                    .of(Points.numbered("pump.{n}.speed", number))
                    .fold(s -> true, gap -> gap.reason() == Reason.INPUT_MISSING);
            boolean weak =
                    hydraulics.remembers(number).filter(Operation::isBelowOne).isPresent();
            able += speaks && !weak ? 1 : 0;
        }
        return able > n.pumpsNeeded() || !running.isAvailable();
    }
}
