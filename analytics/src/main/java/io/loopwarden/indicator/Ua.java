package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Overall conductance of the exchangers at the flows of the window. */
final class Ua implements Indicator {

    @Override
    public String key() {
        return "ua";
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
        return evidence.conductance();
    }
}
