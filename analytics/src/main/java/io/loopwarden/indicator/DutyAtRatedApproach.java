package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Duty that the unit could carry today at its rated approach and TCS flow with the facility valve fully open. */
final class DutyAtRatedApproach implements Indicator {

    @Override
    public String key() {
        return "duty-at-rated-approach";
    }

    @Override
    public UnitFunction function() {
        return UnitFunction.HEAT_TRANSFER;
    }

    @Override
    public String unit() {
        return "W";
    }

    @Override
    public Basis basis() {
        return Basis.STEADY;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        double ratedDutyW = evidence.design().nameplate().ratedDutyW();
        return HeatTransferReserve.carriedRatio(evidence)
                .map(carried -> new Estimate(ratedDutyW * carried.value(), ratedDutyW * carried.standardUncertainty()));
    }
}
