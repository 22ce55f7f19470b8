package io.loopwarden.indicator;

import io.loopwarden.exchanger.CleaningPlan;
import io.loopwarden.exchanger.ExchangerSides;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Crossing;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.Objects;

/**
 * What earlier windows said of a unit's fouling.
 *
 * @param at end of the last of them
 * @param forecast from the last whole day on, until the rated approach is no longer kept at rated duty
 * @param daysToLimit the same as one figure
 * @param level fouling resistance of the latest days, K/W
 * @param fouled deposits are there beyond what errors explain
 */
public record FoulingRecord(
        Instant at,
        FoulingHistory history,
        Computed<Crossing> forecast,
        Computed<Estimate> daysToLimit,
        Computed<Estimate> level,
        boolean fouled,
        CleaningPlan plan,
        ExchangerSides sides) {

    public FoulingRecord {
        Objects.requireNonNull(history, "history");
        Objects.requireNonNull(daysToLimit, "daysToLimit");
        Objects.requireNonNull(plan, "plan");
    }

    /** Share of UA that deposits have taken since the baseline, at the flows of the last day. */
    public Computed<Estimate> lostRatio() {
        return level.map(r -> {
            double clean = history.days().get(history.days().size() - 1).cleanResistanceKPerW();
            double total = clean + r.value();
            return new Estimate(r.value() / total, clean * r.standardUncertainty() / (total * total));
        });
    }
}
