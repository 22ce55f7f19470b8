package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Approach that the unit would need today for rated duty at rated TCS flow with the facility valve fully open. */
final class ApproachAtRatedDuty extends Figure {

    ApproachAtRatedDuty() {
        super("approach-at-rated-duty", UnitFunction.HEAT_TRANSFER, "K", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.approachAtRatedDuty();
    }
}
