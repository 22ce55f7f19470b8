package io.loopwarden.watch;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.indicator.FunctionSignal;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.indicator.Signals;
import io.loopwarden.inventory.LeakSuspicion;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Everything known of one unit at one instant.
 *
 * @param results one for each indicator, in the order of their list
 * @param signals one for each function that is judged today
 * @param behindTheApproach sentence: what the controller's hold on the approach hides
 * @param latest newest sample of each point, ordered by name
 * @param leak what is thought of leaks, with its reasons; empty within the first quarter of an hour
 */
public record UnitFigures(
        UnitId unit,
        Instant at,
        List<IndicatorResult> results,
        List<FunctionSignal> signals,
        String behindTheApproach,
        Map<PointName, Sample> latest,
        Optional<LeakSuspicion> leak) {

    /** Figures of a unit whose containment is not watched. */
    public UnitFigures(
            UnitId unit,
            Instant at,
            List<IndicatorResult> results,
            List<FunctionSignal> signals,
            String behindTheApproach,
            Map<PointName, Sample> latest) {
        this(unit, at, results, signals, behindTheApproach, latest, Optional.empty());
    }

    /** The unit's NE 107 summary: the worst of its functions. */
    public Ne107 summary() {
        return Signals.worst(signals);
    }

    public Optional<IndicatorResult> result(String key) {
        return results.stream().filter(r -> r.key().equals(key)).findFirst();
    }
}
