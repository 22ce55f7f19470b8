package io.loopwarden.indicator;

import io.loopwarden.exchanger.FoulingEstimate;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.exchanger.RatedConditions;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** The unit as it is today at rated duty with the facility valve fully open, by the exchanger that was learnt of it. */
final class LearntCondition {

    private LearntCondition() {}

    /** @param fwsSupplyC facility water to ask for */
    static Computed<Estimate> approachK(
            Design design, FoulingHistory history, Computed<FoulingEstimate> fouling, Means steady, double fwsSupplyC) {
        OpenFlow open = OpenFlow.of(design, steady);
        return fouling.flatMap(f -> steady.of(Side.FWS.flow).flatMap(now -> {
            double today = now.value();
            double u = open.uncertaintyRatio();
            double first = design.nameplate().ratedApproachK();
            Computed<Estimate> approach = approachK(design, history, f, open.flowM3PerS(1, today), fwsSupplyC, first);
            return approach.flatMap(a -> approachK(
                            design, history, f, open.flowM3PerS(1 - u, today), fwsSupplyC, a.value())
                    .map(less ->
                            new Estimate(a.value(), Math.hypot(a.standardUncertainty(), less.value() - a.value()))));
        }));
    }

    private static Computed<Estimate> approachK(
            Design design,
            FoulingHistory history,
            FoulingEstimate fouling,
            double fwsFlowM3PerS,
            double fwsSupplyC,
            double firstK) {
        Nameplate n = design.nameplate();
        return new RatedConditions(n.ratedDutyW(), n.ratedTcsFlowM3PerS(), fwsFlowM3PerS, fwsSupplyC)
                .approachK(history.model(), fouling, firstK);
    }
}
