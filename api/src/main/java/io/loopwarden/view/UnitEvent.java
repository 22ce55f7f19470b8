package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.indicator.UnitFunction;
import io.loopwarden.store.FigureBucket;
import io.loopwarden.store.FigureSeries;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/**
 * Something that happened to a unit: the signal of a function changed, or work was written down.
 *
 * @param signal what the function's signal became; absent for work
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record UnitEvent(Instant at, String function, String signal, MaintenanceView work) {

    public static UnitEvent of(MaintenanceView work) {
        return new UnitEvent(work.from(), null, null, work);
    }

    /** The changes of one function's signal; in a step with several the most urgent counts. */
    public static List<UnitEvent> changes(UnitFunction function, FigureSeries signal) {
        List<UnitEvent> events = new ArrayList<>();
        OptionalDouble before = OptionalDouble.empty();
        for (FigureBucket bucket : signal.buckets()) {
            if (before.isPresent()
                    && bucket.max().isPresent()
                    && before.getAsDouble() != bucket.max().getAsDouble()) {
                Ne107 now = Ne107.values()[(int) bucket.max().getAsDouble()];
                events.add(new UnitEvent(
                        bucket.start(), FigureView.hyphenated(function), FigureView.hyphenated(now), null));
            }
            before = bucket.max().isPresent() ? bucket.max() : before;
        }
        return events;
    }
}
