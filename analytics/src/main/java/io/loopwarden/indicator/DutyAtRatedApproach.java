package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Duty that the unit could carry today at its rated approach and TCS flow with the facility valve fully open. */
final class DutyAtRatedApproach extends Figure {

    DutyAtRatedApproach() {
        super("duty-at-rated-approach", UnitFunction.HEAT_TRANSFER, "W", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        double ratedDutyW = evidence.design().nameplate().ratedDutyW();
        return HeatTransferReserve.carriedRatio(evidence)
                .map(carried -> new Estimate(ratedDutyW * carried.value(), ratedDutyW * carried.standardUncertainty()));
    }
}
