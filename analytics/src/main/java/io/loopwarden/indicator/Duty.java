package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Heat moved, the mean of both sides weighted by their variances; one side where the other has no flow meter. */
final class Duty extends Figure {

    Duty() {
        super("duty", UnitFunction.HEAT_TRANSFER, "W", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.steadyAndRunning()
                .flatMap(means ->
                        of(Side.TCS.dutyW(evidence.design(), means), Side.FWS.dutyW(evidence.design(), means)));
    }

    private static Computed<Estimate> of(Computed<Estimate> tcs, Computed<Estimate> fws) {
        return tcs.fold(
                t -> fws.fold(f -> Computed.of(weighted(t, f)), gap -> tcs), gap -> fws.isAvailable() ? fws : tcs);
    }

    /** q = (q1/u1² + q2/u2²) / (1/u1² + 1/u2²). */
    static Estimate weighted(Estimate a, Estimate b) {
        double varianceA = a.standardUncertainty() * a.standardUncertainty();
        double varianceB = b.standardUncertainty() * b.standardUncertainty();
        double sum = varianceA + varianceB;
        if (sum == 0) {
            return new Estimate((a.value() + b.value()) / 2, 0);
        }
        return new Estimate(
                (a.value() * varianceB + b.value() * varianceA) / sum, Math.sqrt(varianceA / sum * varianceB));
    }
}
