package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** TCS-side minus FWS-side duty over their mean: what the instruments disagree by. */
final class HeatBalanceClosure extends Figure {

    HeatBalanceClosure() {
        super("heat-balance-closure", UnitFunction.INSTRUMENTS, "1", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.steadyAndRunning().flatMap(means -> Closure.of(evidence.design(), means));
    }
}
