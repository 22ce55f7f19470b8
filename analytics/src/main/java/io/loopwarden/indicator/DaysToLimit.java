package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Days until the rated approach is no longer kept at rated duty, if fouling goes on as it does. */
final class DaysToLimit extends Figure {

    DaysToLimit() {
        super("days-to-limit", UnitFunction.HEAT_TRANSFER, "d", Basis.LATEST);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.record().flatMap(FoulingRecord::daysToLimit);
    }
}
