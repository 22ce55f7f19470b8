package io.loopwarden.inventory;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/**
 * What is thought of a unit's containment at one time.
 *
 * @param at end of the last minute that is in it
 * @param probabilityKnown of a leak that goes on; unavailable where the unit has nothing that could show one
 * @param called the loss is beyond its false-alarm limit, and a leak is likelier than anything else
 * @param shares probability of each class; what is left is "nothing"
 * @param contentM3 coolant in loop and reservoir at the reference temperature, beyond the loop's own volume
 * @param rateM3PerS loss that nothing explains
 * @param lostM3 since it began
 * @param toLowLevelS until the low level trips the pumps, if it goes on
 * @param visibleM3PerS smallest loss that a day would show, in the state of the instruments now
 * @param evidence in order of weight
 * @param plot of the last two days, ten minutes apart, oldest first
 */
public record LeakSuspicion(
        Instant at,
        Computed<Estimate> probabilityKnown,
        boolean called,
        Map<LeakClass, Double> shares,
        Computed<Estimate> contentM3,
        Computed<Estimate> rateM3PerS,
        Computed<Estimate> lostM3,
        Computed<Estimate> toLowLevelS,
        Computed<Estimate> visibleM3PerS,
        List<LeakEvidence> evidence,
        List<ContentPoint> plot) {

    public LeakSuspicion {
        Objects.requireNonNull(at, "at");
        Objects.requireNonNull(probabilityKnown, "probabilityKnown");
        shares = Map.copyOf(shares);
        evidence = List.copyOf(evidence);
        plot = List.copyOf(plot);
    }

    /** Of a leak that goes on; 0 where nothing could show one. */
    public double probability() {
        return probabilityKnown.fold(Estimate::value, gap -> 0.0);
    }

    /** The likeliest class, whatever its probability. */
    public LeakClass likeliest() {
        LeakClass best = LeakClass.SEEP;
        for (LeakClass c : LeakClass.values()) {
            best = shares.getOrDefault(c, 0.0) > shares.getOrDefault(best, 0.0) ? c : best;
        }
        return best;
    }
}
