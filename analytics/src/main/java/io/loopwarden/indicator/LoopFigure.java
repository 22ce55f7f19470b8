package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.function.Function;

/** An indicator that holds the last minutes against what is remembered of a unit's loops. */
final class LoopFigure extends Figure {

    private final Function<LoopState, Computed<Estimate>> value;
    private final Function<LoopState, String> about;

    LoopFigure(
            String key,
            UnitFunction function,
            String unit,
            Function<LoopState, Computed<Estimate>> value,
            Function<LoopState, String> about) {
        super(key, function, unit, Basis.RECENT);
        this.value = value;
        this.about = about;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.loop().flatMap(value);
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.loop().fold(about, gap -> "");
    }
}
