package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** TCS supply temperature minus FWS supply temperature, now. */
final class Approach extends Figure {

    Approach() {
        super("approach", UnitFunction.HEAT_TRANSFER, "K", Basis.LATEST);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        Means now = evidence.latest();
        return now.of(Side.TCS.cool)
                .flatMap(tcs -> now.of(Side.FWS.cool)
                        .flatMap(fws -> Temperatures.differenceK(Side.TCS.cool, tcs, Side.FWS.cool, fws)));
    }
}
