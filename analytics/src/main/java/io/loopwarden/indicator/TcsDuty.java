package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Heat that the TCS side gives off, now. */
final class TcsDuty implements Indicator {

    @Override
    public String key() {
        return "tcs-duty";
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
        return Side.TCS.dutyW(evidence.design(), evidence.latest());
    }
}
