package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Duty at rated approach over rated duty: 1 is exactly what was promised, below 1 it is no longer kept. */
final class HeatTransferReserve extends Figure {

    HeatTransferReserve() {
        super("heat-transfer-reserve", UnitFunction.HEAT_TRANSFER, "1", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return carriedRatio(evidence);
    }

    /** At fixed flows and fluid the approach is proportional to duty, so the ratio is promised over projected approach. */
    static Computed<Estimate> carriedRatio(Evidence evidence) {
        double promisedK = evidence.design().nameplate().ratedApproachK();
        return evidence.approachAtRatedDuty().map(projected -> {
            double ratio = promisedK / projected.value();
            return new Estimate(ratio, ratio * projected.standardUncertainty() / projected.value());
        });
    }
}
