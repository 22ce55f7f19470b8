package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Overall conductance at the flows of the window, seen through what has been learnt of the sensors' offsets. */
final class LearntUa implements Indicator {

    @Override
    public String key() {
        return "ua-learnt";
    }

    @Override
    public UnitFunction function() {
        return UnitFunction.HEAT_TRANSFER;
    }

    @Override
    public String unit() {
        return "W/K";
    }

    @Override
    public Basis basis() {
        return Basis.STEADY;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.record().flatMap(r -> evidence.steadyState().flatMap(r.history()::conductanceWPerK));
    }
}
