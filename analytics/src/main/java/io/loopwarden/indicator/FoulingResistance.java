package io.loopwarden.indicator;

import io.loopwarden.exchanger.FoulingEstimate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Thermal resistance that deposits have added since the baseline; the flows do not change it. */
final class FoulingResistance implements Indicator {

    @Override
    public String key() {
        return "fouling-resistance";
    }

    @Override
    public UnitFunction function() {
        return UnitFunction.HEAT_TRANSFER;
    }

    @Override
    public String unit() {
        return "K/W";
    }

    @Override
    public Basis basis() {
        return Basis.STEADY;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.fouling().map(FoulingEstimate::resistanceKPerW);
    }
}
