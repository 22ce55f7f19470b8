package io.loopwarden.indicator;

import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Pressure that is lost between pump and racks at rated flow: exchangers, filters, pipes. Taken as turbulent. */
final class InternalLossAtRatedFlow extends Figure {

    InternalLossAtRatedFlow() {
        super("internal-loss-at-rated-flow", UnitFunction.PUMPING, "Pa", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        Hydraulics hydraulics = evidence.hydraulics();
        double rated = evidence.design().nameplate().ratedTcsFlowM3PerS();
        return hydraulics
                .running()
                .flatMap(running -> hydraulics
                        .flow()
                        .flatMap(q -> running.dp()
                                .flatMap(dp -> hydraulics
                                        .means()
                                        .of(Points.TCS_DP)
                                        .flatMap(racks -> Propagation.figure(
                                                x -> (x[0] - x[1]) * (rated / x[2]) * (rated / x[2]), dp, racks, q)))));
    }
}
