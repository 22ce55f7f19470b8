package io.loopwarden.watch;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.indicator.FunctionSignal;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.indicator.Signals;
import io.loopwarden.indicator.UnitFunction;
import io.loopwarden.instruments.Trust;
import io.loopwarden.inventory.LeakSuspicion;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Everything known of one unit at one instant.
 *
 * @param results one for each indicator, in the order of their list
 * @param signals one for each function that is judged today
 * @param behindTheApproach sentence: what the controller's hold on the approach hides
 * @param latest newest sample of each point, ordered by name
 * @param leak what is thought of leaks, with its reasons; empty within the first quarter of an hour
 * @param distrusted sensors that are not fully believed
 * @param clockOffS seconds that the source's clock lies behind ours, negative ahead; empty where it is right
 * @param background what stands behind the figures; empty for figures that are made without a watch
 */
public record UnitFigures(
        UnitId unit,
        Instant at,
        List<IndicatorResult> results,
        List<FunctionSignal> signals,
        String behindTheApproach,
        Map<PointName, Sample> latest,
        Optional<LeakSuspicion> leak,
        Map<PointName, Trust> distrusted,
        OptionalDouble clockOffS,
        Optional<Background> background) {

    /** Figures of a unit whose containment is not watched and whose sensors are all believed. */
    public UnitFigures(
            UnitId unit,
            Instant at,
            List<IndicatorResult> results,
            List<FunctionSignal> signals,
            String behindTheApproach,
            Map<PointName, Sample> latest) {
        this(
                unit,
                at,
                results,
                signals,
                behindTheApproach,
                latest,
                Optional.empty(),
                Map.of(),
                OptionalDouble.empty(),
                Optional.empty());
    }

    /** The unit's NE 107 summary: the worst of its functions. */
    public Ne107 summary() {
        return Signals.worst(signals);
    }

    public Optional<IndicatorResult> result(String key) {
        return results.stream().filter(r -> r.key().equals(key)).findFirst();
    }

    /** The reserves there are, by function, of which the least is the unit's. */
    private static final Map<UnitFunction, String> RESERVES = Map.of(
            UnitFunction.HEAT_TRANSFER, "heat-transfer-reserve",
            UnitFunction.FILTRATION, "filtration-reserve",
            UnitFunction.PUMPING, "pumping-reserve",
            UnitFunction.CONTROL, "control-reserve");

    /** What a unit has left: the least of its functions, and which. */
    public record Reserve(UnitFunction function, IndicatorResult figure) {}

    /** The least reserve; empty where none can be judged now. */
    public Optional<Reserve> leastReserve() {
        Reserve least = null;
        double lowest = Double.POSITIVE_INFINITY;
        for (IndicatorResult result : results) {
            double value = result.value().fold(Estimate::value, gap -> Double.POSITIVE_INFINITY);
            if (value < lowest && result.key().equals(RESERVES.get(result.function()))) {
                lowest = value;
                least = new Reserve(result.function(), result);
            }
        }
        return Optional.ofNullable(least);
    }
}
