package io.loopwarden.indicator;

import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.Objects;

/**
 * What earlier windows said of a unit's fouling.
 *
 * @param daysToLimit from the last whole day on, until the rated approach is no longer kept at rated duty
 */
public record FoulingRecord(FoulingHistory history, Computed<Estimate> daysToLimit) {

    public FoulingRecord {
        Objects.requireNonNull(history, "history");
        Objects.requireNonNull(daysToLimit, "daysToLimit");
    }
}
