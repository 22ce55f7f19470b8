package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** As {@code approach-at-rated-duty}, with facility water as warm as the nameplate has it. */
final class ApproachAtDesignTemperature extends Figure {

    ApproachAtDesignTemperature() {
        super("approach-at-design-temperature", UnitFunction.HEAT_TRANSFER, "K", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.approachAtDesignTemperature();
    }
}
