package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Heat that the facility water takes up, now. */
final class FwsDuty implements Indicator {

    @Override
    public String key() {
        return "fws-duty";
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
        return Basis.LATEST;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return Side.FWS.dutyW(evidence.design(), evidence.latest());
    }
}
