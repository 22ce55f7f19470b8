package io.loopwarden.indicator;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.hydraulics.Affinity;
import io.loopwarden.hydraulics.PumpCurve;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Flow of as many pumps as are needed, at full speed into the loop as it is now. No pressure is needed: in a closed loop flow follows speed. */
final class PumpAloneFlow extends Figure {

    PumpAloneFlow() {
        super("pump-alone-flow", UnitFunction.PUMPING, "m3/s", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        Hydraulics hydraulics = evidence.hydraulics();
        Nameplate n = evidence.design().nameplate();
        return hydraulics
                .running()
                .flatMap(running -> hydraulics
                        .flow()
                        .flatMap(q -> Propagation.figure(
                                x -> fullFlow(n, running.count(), x[0], x[1], x[2]),
                                q,
                                running.speed(),
                                HydraulicPriors.SHUT_OFF_RATIO)));
    }

    private static double fullFlow(Nameplate n, int running, double flow, double speed, double shape) {
        if (running == n.pumpsNeeded()) {
            return Affinity.flow(flow, 1 / speed);
        }
        double each = n.ratedTcsFlowM3PerS() / n.pumpsNeeded();
        double ratio = flow / running / speed / each;
        if (shape - (shape - 1) * ratio * ratio <= 0) {
            return Double.NaN;
        }
        PumpCurve curve = PumpCurve.through(1, flow / running, speed, shape, each);
        double together = curve.curvaturePaS2PerM6() / n.pumpsNeeded() / n.pumpsNeeded();
        return new PumpCurve(curve.shutOffPa(), together).operatingFlowM3PerS(1, 0, 1 / (flow * flow));
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.hydraulics().running().fold(RunningPumps::words, gap -> "");
    }
}
