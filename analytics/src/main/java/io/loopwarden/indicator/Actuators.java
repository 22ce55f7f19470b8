package io.loopwarden.indicator;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/**
 * What pump speed and facility valve have left, as a ratio of flow; the tighter of the two.
 *
 * @param left largest flow over flow now; of a saturated actuator what it reaches of its set point
 * @param subject which actuator
 */
record Actuators(Estimate left, String subject) {

    private static final double FULL_SPEED = 0.99;

    static Computed<Actuators> of(Evidence evidence) {
        Hydraulics hydraulics = evidence.hydraulics();
        Computed<Actuators> pumps = hydraulics.running().map(running -> pumps(hydraulics.means(), running));
        Computed<Actuators> valve = valve(evidence.design(), hydraulics.means());
        return pumps.fold(p -> valve.fold(v -> Computed.of(tighter(p, v)), gap -> pumps), gap -> valve);
    }

    private static Actuators tighter(Actuators a, Actuators b) {
        return b.left.value() < a.left.value() ? b : a;
    }

    /** In a closed loop flow follows speed. */
    private static Actuators pumps(Means means, RunningPumps running) {
        String subject = "speed of " + running.words();
        double speed = running.speed().value();
        if (speed < FULL_SPEED) {
            double left = 1 / speed;
            return new Actuators(new Estimate(left, left * HydraulicPriors.SPEED_UNCERTAINTY / speed), subject);
        }
        Estimate reached = means.of(Points.TCS_DP)
                .flatMap(dp -> means.of(Points.TCS_DP_SETPOINT).map(set -> rootRatio(dp, set.value())))
                .fold(e -> e, gap -> new Estimate(1, HydraulicPriors.SPEED_UNCERTAINTY));
        return new Actuators(reached, subject);
    }

    /** Flow goes with the root of pressure. */
    private static Estimate rootRatio(Estimate dp, double setPa) {
        if (setPa <= 0) {
            return new Estimate(1, 0);
        }
        double ratio = Math.min(1, Math.sqrt(Math.max(0, dp.value()) / setPa));
        return new Estimate(ratio, Math.min(1, dp.standardUncertainty() / setPa / 2));
    }

    private static Computed<Actuators> valve(Design design, Means means) {
        return means.of(Points.FWS_VALVE_POSITION)
                .flatMap(position -> position.value() >= design.settings().valveOpenRatio()
                        ? Computed.of(new Actuators(reachedApproach(means), "facility valve"))
                        : Side.FWS
                                .runningFlow(design, means)
                                .map(q -> new Actuators(valveLeft(design, means, q), "facility valve")));
    }

    /** An open valve that does not hold the approach gives as much as the set point is of the approach. */
    private static Estimate reachedApproach(Means means) {
        return means.of(Points.TCS_SUPPLY_TEMPERATURE)
                .flatMap(warm -> means.of(Points.FWS_SUPPLY_TEMPERATURE)
                        .flatMap(cool -> means.of(Points.APPROACH_SETPOINT)
                                .flatMap(set -> Propagation.figure(
                                        x -> set.value() / Math.max(set.value(), x[0] - x[1]), warm, cool))))
                .fold(e -> e, gap -> new Estimate(1, 0));
    }

    /** Rated flow is what passes the open valve at design differential pressure; turbulent, so it goes with the root. */
    private static Estimate valveLeft(Design design, Means means, Estimate q) {
        Nameplate n = design.nameplate();
        double root = n.designFwsDpPa().isEmpty()
                ? 1
                : means.of(Points.FWS_DP)
                        .fold(
                                dp -> Math.sqrt(Math.max(0, dp.value())
                                        / n.designFwsDpPa().getAsDouble()),
                                gap -> 1.0);
        boolean known = n.designFwsDpPa().isPresent() && means.of(Points.FWS_DP).isAvailable();
        double left = Math.max(1, n.ratedFwsFlowM3PerS() * root / q.value());
        double u = known
                ? design.settings().openFlowByDpRatio()
                : design.settings().openFlowUnknownRatio();
        return new Estimate(left, left * Math.hypot(u, q.standardUncertainty() / q.value()));
    }
}
