package io.loopwarden.mqtt;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.UnitId;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentSkipListSet;
import java.util.concurrent.CopyOnWriteArrayList;

/** A sink that keeps whole-number values, or takes them and never says that they are kept. */
final class PausableSink implements ReadingSink {

    private final Set<Long> offered = new ConcurrentSkipListSet<>();
    private final Set<Long> kept = new ConcurrentSkipListSet<>();
    private final List<Runnable> waiting = new CopyOnWriteArrayList<>();
    private volatile boolean paused;

    void pause() {
        paused = true;
    }

    /** Keeps what waits, the last first, and all that comes. */
    void resumeBackwards() {
        paused = false;
        for (int i = waiting.size() - 1; i >= 0; i--) {
            waiting.get(i).run();
        }
    }

    /** What waits is never kept; all that comes is. */
    void forgetWaiting() {
        paused = false;
        waiting.clear();
    }

    @Override
    public CompletableFuture<Void> accept(UnitId unit, Instant receivedAt, List<RawReading> readings) {
        List<Long> values = readings.stream()
                .map(reading -> ((RawValue.Whole) reading.value()).value())
                .toList();
        offered.addAll(values);
        CompletableFuture<Void> future = new CompletableFuture<>();
        Runnable keep = () -> {
            kept.addAll(values);
            future.complete(null);
        };
        if (paused) {
            waiting.add(keep);
        } else {
            keep.run();
        }
        return future;
    }

    Set<Long> offered() {
        return offered;
    }

    Set<Long> kept() {
        return kept;
    }
}
