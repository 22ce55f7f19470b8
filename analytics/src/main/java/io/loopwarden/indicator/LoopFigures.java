package io.loopwarden.indicator;

import java.util.List;

/** Indicators that hold the last minutes against what is remembered of a unit's loops. */
final class LoopFigures {

    static final List<Indicator> ALL = List.of(
            new LoopFigure(
                    "filter-loading", UnitFunction.FILTRATION, "1", LoopState::mostLoaded, LoopState::mostLoadedWords),
            new LoopFigure(
                    "filter-days-to-change",
                    UnitFunction.FILTRATION,
                    "d",
                    LoopState::daysToChange,
                    loop -> loop.nextDue().map(i -> "filter " + (i + 1)).orElse("")),
            new LoopFigure(
                    "strainer-loading", UnitFunction.FILTRATION, "1", LoopState::strainerLoading, loop -> "strainer"),
            new LoopFigure(
                    "strainer-days-to-change",
                    UnitFunction.FILTRATION,
                    "d",
                    loop -> loop.known().strainerDays(),
                    loop -> "strainer"),
            new LoopFigure("pump-head-loss", UnitFunction.PUMPING, "1", LoopState::lostHead, LoopState::mostWornWords),
            new LoopFigure(
                    "pump-efficiency-change",
                    UnitFunction.PUMPING,
                    "1",
                    LoopState::efficiencyShift,
                    LoopState::mostWornWords),
            new LoopFigure("rack-resistance-change", UnitFunction.PUMPING, "1", LoopState::rackChange, loop -> "racks"),
            new LoopFigure(
                    "valve-authority", UnitFunction.CONTROL, "1", LoopState::valveAuthority, loop -> "facility valve"));

    private LoopFigures() {}
}
