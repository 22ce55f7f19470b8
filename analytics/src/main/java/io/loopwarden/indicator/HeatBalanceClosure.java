package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** TCS-side minus FWS-side duty over their mean: what the instruments disagree by. */
final class HeatBalanceClosure implements Indicator {

    @Override
    public String key() {
        return "heat-balance-closure";
    }

    @Override
    public UnitFunction function() {
        return UnitFunction.INSTRUMENTS;
    }

    @Override
    public String unit() {
        return "1";
    }

    @Override
    public Basis basis() {
        return Basis.STEADY;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.steadyAndRunning().flatMap(means -> Closure.of(evidence.design(), means));
    }
}
