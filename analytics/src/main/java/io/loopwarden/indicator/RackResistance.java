package io.loopwarden.indicator;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Resistance of the racks over the promised one, that takes the available head at rated flow: above 1 they throttle or block. */
final class RackResistance implements Indicator {

    @Override
    public String key() {
        return "rack-resistance";
    }

    @Override
    public UnitFunction function() {
        return UnitFunction.PUMPING;
    }

    @Override
    public String unit() {
        return "1";
    }

    @Override
    public Basis basis() {
        return Basis.RECENT;
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
