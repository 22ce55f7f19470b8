package io.loopwarden.indicator;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Resistance of the racks over the promised one, that takes the available head at rated flow: above 1 they throttle or block. */
final class RackResistance extends Figure {

    RackResistance() {
        super("rack-resistance", UnitFunction.PUMPING, "1", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        Hydraulics hydraulics = evidence.hydraulics();
        Nameplate n = evidence.design().nameplate();
        return hydraulics
                .flow()
                .flatMap(q -> hydraulics
                        .means()
                        .of(Points.TCS_DP)
                        .flatMap(racks -> Propagation.figure(
                                x -> x[0]
                                        / n.availableHeadPa()
                                        * (n.ratedTcsFlowM3PerS() / x[1])
                                        * (n.ratedTcsFlowM3PerS() / x[1]),
                                racks,
                                q)));
    }
}
