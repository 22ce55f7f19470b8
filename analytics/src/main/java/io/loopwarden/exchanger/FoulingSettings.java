package io.loopwarden.exchanger;

import java.time.Duration;
import java.time.Instant;
import java.util.Objects;

/**
 * How the fouling history is kept.
 *
 * @param learningSpan how long the baseline is learnt from its start on, or from a cleaning on
 * @param leastLearningWindows fewer do not make a baseline; learning then goes on
 * @param windowsApart least time between the starts of two windows that are learnt from
 * @param leastWindowsPerDay days with fewer say too little to be kept
 * @param mostDays days kept, the oldest go first
 * @param learnFrom windows before it are left alone; to try another baseline on history
 */
public record FoulingSettings(
        Duration learningSpan,
        int leastLearningWindows,
        Duration windowsApart,
        int leastWindowsPerDay,
        int mostDays,
        Instant learnFrom) {

    public static final FoulingSettings DEFAULT =
            new FoulingSettings(Duration.ofDays(5), 36, Duration.ofMinutes(50), 3, 400, Instant.EPOCH);

    /** Windows that learning may hold; it ends there at the latest. */
    static final int MOST_LEARNING_WINDOWS = 500;

    public FoulingSettings {
        requireWithin("learning span (h)", learningSpan.toHours(), 1, 24 * 60);
        requireWithin(
                "least learning windows", leastLearningWindows, CleanLearning.LEAST_WINDOWS, MOST_LEARNING_WINDOWS);
        requireWithin("windows apart (min)", windowsApart.toMinutes(), 1, 24 * 60);
        requireWithin("least windows per day", leastWindowsPerDay, 1, 96);
        requireWithin("most days", mostDays, 30, 2000);
        Objects.requireNonNull(learnFrom, "learn from");
    }

    private static void requireWithin(String name, long value, long least, long most) {
        if (value < least || value > most) {
            throw new IllegalArgumentException(name + " is " + value + ", must be " + least + " to " + most);
        }
    }
}
