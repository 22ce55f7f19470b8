package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Overall conductance at the flows of the window, seen through what has been learnt of the sensors' offsets. */
final class LearntUa extends Figure {

    LearntUa() {
        super("ua-learnt", UnitFunction.HEAT_TRANSFER, "W/K", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.record().flatMap(r -> evidence.steadyState().flatMap(r.history()::conductanceWPerK));
    }
}
