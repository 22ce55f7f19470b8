package io.loopwarden.samplelog;

import java.time.Duration;
import java.util.Objects;

/**
 * Bounds of a sample log.
 *
 * @param queuedSamples most samples waiting to be stored; about 100 bytes of memory each
 * @param appendWait longest wait of {@link SampleLog#append} for room
 * @param flushSamples a batch is written as soon as so many samples wait
 * @param flushEvery a batch is written at the latest so long after its first scan came, sooner if nothing more comes
 * @param retryFirst first wait after the store failed; doubled each time up to {@code retryMost}
 * @param listenerScans most scans waiting for one listener
 * @param closeWait longest time that closing waits for the queue to be stored
 */
public record LogLimits(
        int queuedSamples,
        Duration appendWait,
        int flushSamples,
        Duration flushEvery,
        Duration retryFirst,
        Duration retryMost,
        int listenerScans,
        Duration closeWait) {

    public static final LogLimits DEFAULT = new LogLimits(
            1_000_000,
            Duration.ofSeconds(5),
            20_000,
            Duration.ofMillis(200),
            Duration.ofMillis(100),
            Duration.ofSeconds(5),
            20_000,
            Duration.ofSeconds(10));

    public LogLimits {
        requirePositive("queued samples", queuedSamples);
        requirePositive("flush samples", flushSamples);
        requirePositive("listener scans", listenerScans);
        requireNotNegative("append wait", appendWait);
        requireNotNegative("flush interval", flushEvery);
        requireNotNegative("first retry wait", retryFirst);
        requireNotNegative("longest retry wait", retryMost);
        requireNotNegative("close wait", closeWait);
    }

    private static void requirePositive(String name, int value) {
        if (value <= 0) {
            throw new IllegalArgumentException(name + " is " + value + ", must be > 0");
        }
    }

    private static void requireNotNegative(String name, Duration value) {
        Objects.requireNonNull(value, name);
        if (value.isNegative()) {
            throw new IllegalArgumentException(name + " is " + value + ", must not be negative");
        }
    }
}
