package io.loopwarden.alarm;

import java.time.Duration;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;

/**
 * A rationalised alarm: what raises it, why it matters, and what a person does first. Without consequence and first action it is no alarm.
 *
 * @param key stable name, never reused
 * @param title what people read in a list
 * @param function what it is about, for example {@code filtration}
 * @param realarmAfter an alarm that is acknowledged and still there asks for attention again after this long
 * @param who name of the escalation chain
 * @param group alarms of one unit with one group are one incident
 * @param hallWide whether half of a hall's units having it is one incident of the hall
 * @param follows groups whose incident this alarm may be a consequence of; it then joins that incident
 * @param suppressedWhile keys of alarms, at the unit or its connection, that take away what this one is judged by
 * @param show points to draw beside it, at most two
 */
public record Definition(
        String key,
        String title,
        String function,
        Condition condition,
        Delay.Times delays,
        String cause,
        String consequence,
        Severity severity,
        String firstAction,
        Duration respondWithin,
        boolean latching,
        Optional<Duration> realarmAfter,
        String who,
        String group,
        boolean hallWide,
        Set<String> follows,
        Set<String> suppressedWhile,
        List<String> show) {

    public Definition {
        Objects.requireNonNull(key, "key");
        Objects.requireNonNull(title, "title");
        Objects.requireNonNull(function, "function");
        Objects.requireNonNull(condition, "condition");
        Objects.requireNonNull(delays, "delays");
        Objects.requireNonNull(cause, "cause");
        Objects.requireNonNull(severity, "severity");
        Objects.requireNonNull(respondWithin, "respondWithin");
        Objects.requireNonNull(realarmAfter, "realarmAfter");
        Objects.requireNonNull(who, "who");
        Objects.requireNonNull(group, "group");
        follows = Set.copyOf(follows);
        suppressedWhile = Set.copyOf(suppressedWhile);
        show = List.copyOf(show);
        if (consequence.isBlank() || firstAction.isBlank()) {
            throw new IllegalArgumentException(key + " has no consequence or no first action: then it is no alarm");
        }
        if (respondWithin.isNegative() || respondWithin.isZero()) {
            throw new IllegalArgumentException(key + " leaves no time to respond");
        }
    }

    public Priority priority() {
        return Priority.of(severity, respondWithin);
    }
}
