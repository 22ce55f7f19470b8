package io.loopwarden.indicator;

import io.loopwarden.exchanger.FoulingEstimate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Thermal resistance that deposits have added since the baseline; the flows do not change it. */
final class FoulingResistance extends Figure {

    FoulingResistance() {
        super("fouling-resistance", UnitFunction.HEAT_TRANSFER, "K/W", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.fouling().map(FoulingEstimate::resistanceKPerW);
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.record().fold(r -> r.fouled() ? r.sides().likelySide(r.at()) : "", gap -> "");
    }
}
