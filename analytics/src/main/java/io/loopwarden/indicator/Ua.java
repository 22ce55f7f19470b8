package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Overall conductance of the exchangers at the flows of the window. */
final class Ua extends Figure {

    Ua() {
        super("ua", UnitFunction.HEAT_TRANSFER, "W/K", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.conductance();
    }
}
