package io.loopwarden.indicator;

import io.loopwarden.fleet.PointName;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.Map;
import java.util.Objects;

/**
 * Means of a unit's points over one window, each with its standard uncertainty: sensor class and scatter together.
 *
 * @param to not before {@code from}
 * @param byPoint points that the window knows something of; values in the inner unit of the point
 */
public record Means(Instant from, Instant to, Map<PointName, Computed<Estimate>> byPoint) {

    public Means {
        byPoint = Map.copyOf(byPoint);
        if (Objects.requireNonNull(to, "to").isBefore(from)) {
            throw new IllegalArgumentException("window from " + from + " to " + to);
        }
    }

    /** The point's mean, or {@code INPUT_MISSING} where the window knows nothing of it. */
    public Computed<Estimate> of(PointName point) {
        Computed<Estimate> mean = byPoint.get(point);
        return mean != null
                ? mean
                : Computed.unavailable(Reason.INPUT_MISSING, point + " has never been received from this unit.");
    }
}
