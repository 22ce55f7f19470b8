package io.loopwarden.plan;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.Instant;

/**
 * Work on one unit that falls due.
 *
 * @param work what to do, in words
 * @param figure key of the figure that says so
 * @param due most likely time at which the promise is no longer kept; not before now
 * @param early start of the 80 % interval; absent where the work is due because of a signal, like {@code late}
 * @param why one sentence
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record Job(
        String unit,
        String hall,
        String supplier,
        String function,
        String work,
        String figure,
        Instant due,
        Instant early,
        Instant late,
        String why) {}
