package io.loopwarden.indicator;

import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Differential pressure at the racks minus its set point. */
final class LoopDpError extends Figure {

    LoopDpError() {
        super("loop-dp-error", UnitFunction.CONTROL, "Pa", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        Means means = evidence.hydraulics().means();
        return means.of(Points.TCS_DP)
                .flatMap(dp ->
                        means.of(Points.TCS_DP_SETPOINT).flatMap(set -> Propagation.figure(x -> x[0] - x[1], dp, set)));
    }
}
