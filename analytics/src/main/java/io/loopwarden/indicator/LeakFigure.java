package io.loopwarden.indicator;

import io.loopwarden.inventory.LeakSuspicion;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.List;
import java.util.function.Function;

/** A figure of the leak suspicion, which is worked out over days and only read here. */
final class LeakFigure extends Figure {

    static final List<Indicator> ALL = List.of(
            new LeakFigure("leak-suspicion", "1", LeakSuspicion::probabilityKnown),
            new LeakFigure("unexplained-loss", "m3/s", LeakSuspicion::rateM3PerS),
            new LeakFigure("coolant-lost", "m3", LeakSuspicion::lostM3),
            new LeakFigure("time-to-low-level", "s", LeakSuspicion::toLowLevelS),
            new LeakFigure("coolant-content", "m3", LeakSuspicion::contentM3),
            new LeakFigure("smallest-visible-loss", "m3/s", LeakSuspicion::visibleM3PerS));

    private final Function<LeakSuspicion, Computed<Estimate>> figure;

    private LeakFigure(String key, String unit, Function<LeakSuspicion, Computed<Estimate>> figure) {
        super(key, UnitFunction.CONTAINMENT, unit, Basis.LATEST);
        this.figure = figure;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.leak().flatMap(figure::apply);
    }

    @Override
    public String subject(Evidence evidence) {
        boolean classed = key().equals("leak-suspicion");
        return classed
                ? evidence.leak()
                        .fold(l -> l.probability() < 0.05 ? "" : l.likeliest().words(), gap -> "")
                : "";
    }
}
