package io.loopwarden.collector;

import io.loopwarden.fleet.UnitId;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/**
 * How far each unit's source time lies from the time of receipt. The least delay of the last one to two minutes is the way plus how far
 * the source's clock is behind ours; below zero its clock is ahead for sure.
 */
public final class SourceClocks {

    private static final Duration SPAN = Duration.ofMinutes(1);

    private static final class State {
        Instant since;
        long leastMs = Long.MAX_VALUE;
        long leastBeforeMs = Long.MAX_VALUE;
        long lastMs;
    }

    /**
     * @param last delay of the newest scan
     * @param least least delay of the last one to two minutes
     */
    public record Delay(Duration last, Duration least) {}

    private final Map<UnitId, State> states = new ConcurrentHashMap<>();

    void heard(UnitId unit, Instant receivedAt, List<RawReading> readings) {
        if (readings.isEmpty()) {
            return;
        }
        Instant newest = readings.get(0).measuredAt();
        for (RawReading reading : readings) {
            newest = reading.measuredAt().isAfter(newest) ? reading.measuredAt() : newest;
        }
        long delayMs = Duration.between(newest, receivedAt).toMillis();
        State state = states.computeIfAbsent(unit, first -> new State());
        synchronized (state) {
            if (state.since == null || receivedAt.isAfter(state.since.plus(SPAN))) {
                state.leastBeforeMs = state.since == null ? Long.MAX_VALUE : state.leastMs;
                state.leastMs = Long.MAX_VALUE;
                state.since = receivedAt;
            }
            state.lastMs = delayMs;
            state.leastMs = Math.min(state.leastMs, delayMs);
        }
    }

    /** Empty before the first reading of that unit. */
    public Optional<Delay> of(UnitId unit) {
        State state = states.get(unit);
        if (state == null) {
            return Optional.empty();
        }
        synchronized (state) {
            return Optional.of(new Delay(
                    Duration.ofMillis(state.lastMs), Duration.ofMillis(Math.min(state.leastMs, state.leastBeforeMs))));
        }
    }
}
