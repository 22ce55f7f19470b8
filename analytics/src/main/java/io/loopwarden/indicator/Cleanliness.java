package io.loopwarden.indicator;

import io.loopwarden.exchanger.FoulingEstimate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** UA over what it would be without fouling, at the same flows and temperatures. */
final class Cleanliness extends Figure {

    Cleanliness() {
        super("cleanliness", UnitFunction.HEAT_TRANSFER, "1", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.fouling().flatMap(FoulingEstimate::cleanlinessRatio);
    }
}
