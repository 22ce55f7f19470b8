package io.loopwarden.indicator;

import io.loopwarden.hydraulics.LoopHistory;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.List;

/**
 * What is remembered of filters, pumps, racks and valve, and what follows from it once a day.
 *
 * @param logFittings belief in what a filter branch takes beside its element, as the logarithm of their ratio
 * @param filterDays days until each filter is due
 * @param strainerDays days until the strainer is due
 */
public record LoopKnown(
        LoopHistory history,
        Estimate logFittings,
        List<Computed<Estimate>> filterDays,
        Computed<Estimate> strainerDays) {

    public LoopKnown {
        filterDays = List.copyOf(filterDays);
    }
}
