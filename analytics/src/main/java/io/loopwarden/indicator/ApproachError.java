package io.loopwarden.indicator;

import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Approach minus its set point, as the controller sees both. */
final class ApproachError extends Figure {

    ApproachError() {
        super("approach-error", UnitFunction.CONTROL, "K", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        Means means = evidence.hydraulics().means();
        return means.of(Points.TCS_SUPPLY_TEMPERATURE)
                .flatMap(warm -> means.of(Points.FWS_SUPPLY_TEMPERATURE)
                        .flatMap(cool -> means.of(Points.APPROACH_SETPOINT)
                                .flatMap(set -> Propagation.figure(x -> x[0] - x[1] - x[2], warm, cool, set))));
    }
}
