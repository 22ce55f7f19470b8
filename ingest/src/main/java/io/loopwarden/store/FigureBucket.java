package io.loopwarden.store;

import io.loopwarden.statistics.Computed.Reason;
import java.time.Instant;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What a figure was during one step of time. Values are in the figure's own unit and single precision.
 *
 * @param values minutes with a value
 * @param gaps minutes with a reason instead
 * @param min absent without values, like the next three
 * @param standardUncertainty mean of the standard uncertainties
 * @param reason why the newest minute without a value had none
 */
public record FigureBucket(
        Instant start,
        int values,
        int gaps,
        OptionalDouble min,
        OptionalDouble max,
        OptionalDouble mean,
        OptionalDouble standardUncertainty,
        Optional<Reason> reason) {

    public FigureBucket {
        Objects.requireNonNull(start, "start");
        Objects.requireNonNull(reason, "reason");
    }
}
