package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Heat that the TCS side gives off, now. */
final class TcsDuty extends Figure {

    TcsDuty() {
        super("tcs-duty", UnitFunction.HEAT_TRANSFER, "W", Basis.LATEST);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return Side.TCS.dutyW(evidence.design(), evidence.latest());
    }
}
