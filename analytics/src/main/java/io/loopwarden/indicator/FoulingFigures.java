package io.loopwarden.indicator;

import io.loopwarden.exchanger.Cleaning;
import io.loopwarden.exchanger.CleaningEffect;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.time.LocalDate;
import java.util.List;

/** Indicators that follow from what is remembered of a unit's fouling. */
final class FoulingFigures {

    static final List<Indicator> ALL = List.of(
            new FoulingFigure("days-to-limit", "d", FoulingRecord::daysToLimit, r -> ""),
            new FoulingFigure("cleaning-recovered", "1", FoulingFigures::recovered, FoulingFigures::lastCleaning),
            new FoulingFigure("exchanger-tcs-dp-growth", "1", r -> r.sides().tcsGrowthRatio(r.at()), r -> "TCS side"),
            new FoulingFigure("exchanger-fws-dp-growth", "1", r -> r.sides().fwsGrowthRatio(r.at()), r -> "FWS side"),
            new FoulingFigure("fouling-pumping-energy", "kW.h/wk", r -> r.plan().pumpingKWhPerWeek(), r -> ""),
            new FoulingFigure("fouling-lost-free-cooling", "h/wk", r -> r.plan().lostFreeCoolingHPerWeek(), r -> ""),
            new FoulingFigure("cleaning-interval", "d", FoulingFigures::interval, r -> ""));

    private FoulingFigures() {}

    private static Computed<Estimate> recovered(FoulingRecord r) {
        List<Cleaning> cleanings = r.history().cleanings();
        return cleanings.isEmpty()
                ? Computed.unavailable(
                        Reason.BASELINE_MISSING,
                        "No cleaning has been seen or written since the baseline, with days on both sides of it.")
                : cleanings.get(cleanings.size() - 1).effect().flatMap(CleaningEffect::recoveredShare);
    }

    private static String lastCleaning(FoulingRecord r) {
        List<Cleaning> cleanings = r.history().cleanings();
        if (cleanings.isEmpty()) {
            return "";
        }
        Cleaning last = cleanings.get(cleanings.size() - 1);
        return (last.written() ? "cleaning of " : "cleaning seen about ") + LocalDate.ofEpochDay(last.epochDay());
    }

    /** As sure as the cost of fouling it rests on; the interval goes with its root. */
    private static Computed<Estimate> interval(FoulingRecord r) {
        return r.plan()
                .interval()
                .flatMap(best -> r.level()
                        .map(level -> new Estimate(
                                best.days(), best.days() * level.standardUncertainty() / level.value() / 2)));
    }
}
