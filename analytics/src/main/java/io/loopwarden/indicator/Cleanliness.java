package io.loopwarden.indicator;

import io.loopwarden.exchanger.FoulingEstimate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** UA over what it would be without fouling, at the same flows and temperatures. */
final class Cleanliness implements Indicator {

    @Override
    public String key() {
        return "cleanliness";
    }

    @Override
    public UnitFunction function() {
        return UnitFunction.HEAT_TRANSFER;
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
        return evidence.fouling().flatMap(FoulingEstimate::cleanlinessRatio);
    }
}
