package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.function.Function;

/** An indicator that follows from what is remembered of a unit's fouling. */
final class FoulingFigure extends Figure {

    private final Function<FoulingRecord, Computed<Estimate>> value;
    private final Function<FoulingRecord, String> about;

    FoulingFigure(
            String key,
            String unit,
            Function<FoulingRecord, Computed<Estimate>> value,
            Function<FoulingRecord, String> about) {
        super(key, UnitFunction.HEAT_TRANSFER, unit, Basis.LATEST);
        this.value = value;
        this.about = about;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.record().flatMap(value);
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.record().fold(about, gap -> "");
    }
}
