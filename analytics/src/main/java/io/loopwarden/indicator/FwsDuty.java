package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Heat that the facility water takes up, now. */
final class FwsDuty extends Figure {

    FwsDuty() {
        super("fws-duty", UnitFunction.HEAT_TRANSFER, "W", Basis.LATEST);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return Side.FWS.dutyW(evidence.design(), evidence.latest());
    }
}
