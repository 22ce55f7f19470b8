package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Days until the rated approach is no longer kept at rated duty, if fouling goes on as it does. */
final class DaysToLimit implements Indicator {

    @Override
    public String key() {
        return "days-to-limit";
    }

    @Override
    public UnitFunction function() {
        return UnitFunction.HEAT_TRANSFER;
    }

    @Override
    public String unit() {
        return "d";
    }

    @Override
    public Basis basis() {
        return Basis.LATEST;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.record().flatMap(FoulingRecord::daysToLimit);
    }
}
