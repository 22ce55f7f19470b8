package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Approach that the unit would need today for rated duty at rated TCS flow with the facility valve fully open. */
final class ApproachAtRatedDuty implements Indicator {

    @Override
    public String key() {
        return "approach-at-rated-duty";
    }

    @Override
    public UnitFunction function() {
        return UnitFunction.HEAT_TRANSFER;
    }

    @Override
    public String unit() {
        return "K";
    }

    @Override
    public Basis basis() {
        return Basis.STEADY;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.approachAtRatedDuty();
    }
}
