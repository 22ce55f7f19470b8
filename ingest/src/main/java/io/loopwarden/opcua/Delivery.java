package io.loopwarden.opcua;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.UnitId;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;

/**
 * Hands on what came in one publish response, one call of the sink a unit, and marks gaps: a reading without a value,
 * quality bad, BadNoCommunication.
 *
 * <p>A mark lies just after the time up to which we know everything, on the server's clock: after the last value, so
 * that it never has the time of a value, and before what the server queues for us meanwhile. A server that looks at a
 * steady value after a gap sends it with its old source time, which lies before the mark; such a value is handed on
 * once more with the time at which the server looked, or the gap would never end.
 */
final class Delivery {

    private static final Duration JUST_AFTER = Duration.ofMillis(1);

    private final String connection;
    private final ReadingSink sink;
    private final RejectLog rejects;
    private final Clock clock;
    private final Semaphore inFlight;
    private final Duration patience;
    private volatile Instant lastHeardAt;
    private Duration serverBehind = Duration.ZERO;
    private volatile Instant lastDataAt;
    private boolean closed;

    /**
     * @param patience how long a delivery waits while {@code maxInFlight} others are not finished; then it is counted
     * as lost
     */
    Delivery(String connection, ReadingSink sink, RejectLog rejects, Clock clock, int maxInFlight, Duration patience) {
        this.connection = connection;
        this.sink = Objects.requireNonNull(sink, "sink");
        this.rejects = Objects.requireNonNull(rejects, "rejects");
        this.clock = clock;
        this.inFlight = new Semaphore(maxInFlight);
        this.patience = patience;
        this.lastHeardAt = clock.instant();
    }

    Optional<Instant> lastDataAt() {
        return Optional.ofNullable(lastDataAt);
    }

    /** The server is there, with or without data: up to now nothing is missing. */
    void heard() {
        lastHeardAt = clock.instant();
    }

    /** @param tags as long as {@code values}: whose value it is */
    synchronized void values(List<Tag> tags, List<DataValue> values) {
        if (closed || tags.isEmpty()) {
            return;
        }
        Instant receivedAt = clock.instant();
        lastHeardAt = receivedAt;
        lastDataAt = receivedAt;
        values.stream()
                .flatMap(value -> DataValues.time(value.serverTime()).stream())
                .max(Comparator.naturalOrder())
                .ifPresent(newest -> serverBehind = Duration.between(newest, receivedAt));
        Map<Tag, List<DataValue>> byTag = new LinkedHashMap<>();
        for (int i = 0; i < tags.size(); i++) {
            byTag.computeIfAbsent(tags.get(i), tag -> new ArrayList<>(1)).add(values.get(i));
        }
        Map<UnitId, Batch> batches = new LinkedHashMap<>();
        byTag.forEach((tag, its) -> add(
                batches.computeIfAbsent(tag.unit(), unit -> new Batch(new ArrayList<>(), new ArrayList<>())),
                tag,
                its,
                receivedAt));
        batches.forEach((unit, batch) -> handOn(unit, receivedAt, batch));
    }

    /**
     * From the time we last heard of the server nothing is known of these tags; a tag that is already marked is left
     * alone.
     */
    synchronized void markGap(Collection<Tag> tags) {
        if (closed) {
            return;
        }
        Map<UnitId, Batch> batches = new LinkedHashMap<>();
        Instant lastKnownAt = lastHeardAt.minus(serverBehind);
        for (Tag tag : tags) {
            if (tag.lastMeasuredAt != null && tag.gapSince == null) {
                Instant last = tag.lastMeasuredAt.isAfter(lastKnownAt) ? tag.lastMeasuredAt : lastKnownAt;
                tag.gapSince = last.plus(JUST_AFTER);
                batches.computeIfAbsent(tag.unit(), unit -> new Batch(new ArrayList<>(), new ArrayList<>()))
                        .add(tag, mark(tag, tag.gapSince));
            }
        }
        Instant now = clock.instant();
        batches.forEach((unit, batch) -> handOn(unit, now, batch));
    }

    /** Nothing is handed on after this. */
    synchronized void close() {
        closed = true;
    }

    private void add(Batch batch, Tag tag, List<DataValue> values, Instant receivedAt) {
        boolean overflowed = values.stream().anyMatch(DataValues::overflowed);
        for (DataValue value : values) {
            DataValues.Decoded decoded = DataValues.decode(tag.source(), value, receivedAt);
            if (decoded instanceof DataValues.Refused refused) {
                rejects.reject(connection, refused.reason(), tag.unit() + ": " + refused.detail(), value.toString());
                continue;
            }
            RawReading reading = ((DataValues.Taken) decoded).reading();
            markMissing(batch, tag, reading.measuredAt(), overflowed);
            overflowed = false;
            batch.add(tag, reading);
            tag.lastMeasuredAt = reading.measuredAt();
            endGap(batch, tag, reading, DataValues.time(value.serverTime()).orElse(receivedAt.minus(serverBehind)));
        }
    }

    /**
     * A value from before the mark ends the gap only if the server looked at it after the mark; else it was queued
     * before.
     */
    private static void endGap(Batch batch, Tag tag, RawReading reading, Instant lookedAt) {
        if (tag.gapSince == null) {
            return;
        }
        if (reading.measuredAt().isAfter(tag.gapSince)) {
            tag.gapSince = null;
        } else if (lookedAt.isAfter(tag.gapSince)) {
            batch.add(tag, new RawReading(tag.source(), lookedAt, reading.value(), reading.quality()));
            tag.lastMeasuredAt = lookedAt;
            tag.gapSince = null;
        }
    }

    /** Marks what the server dropped from its queue, or what the sink did not keep, before the next value. */
    private void markMissing(Batch batch, Tag tag, Instant nextAt, boolean overflowed) {
        Instant lostAt = tag.lostAt;
        tag.lostAt = null;
        if (lostAt != null && lostAt.isBefore(nextAt)) {
            batch.add(tag, mark(tag, lostAt));
        }
        if (overflowed && tag.lastMeasuredAt != null && tag.gapSince == null) {
            Duration between = Duration.between(tag.lastMeasuredAt, nextAt).dividedBy(2);
            if (between.compareTo(Duration.ofNanos(1000)) >= 0) {
                Duration after = between.compareTo(JUST_AFTER) < 0 ? between : JUST_AFTER;
                batch.add(tag, mark(tag, tag.lastMeasuredAt.plus(after)));
            }
        }
    }

    private void handOn(UnitId unit, Instant receivedAt, Batch batch) {
        if (batch.readings().isEmpty()) {
            return;
        }
        if (!acquire()) {
            lost(unit, batch, "the sink finished none of its open deliveries within " + patience);
            return;
        }
        CompletableFuture<Void> kept;
        try {
            kept = Objects.requireNonNull(sink.accept(unit, receivedAt, batch.readings()), "the sink's answer");
        } catch (RuntimeException e) {
            inFlight.release();
            lost(unit, batch, e.toString());
            return;
        }
        kept.whenComplete((done, failure) -> {
            inFlight.release();
            if (failure != null) {
                lost(unit, batch, failure.toString());
            }
        });
    }

    private boolean acquire() {
        try {
            return inFlight.tryAcquire(patience.toMillis(), TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
    }

    /** May run in the sink's thread, so it takes no lock. */
    private void lost(UnitId unit, Batch batch, String why) {
        for (int i = 0; i < batch.tags().size(); i++) {
            RawReading reading = batch.readings().get(i);
            Tag tag = batch.tags().get(i);
            Instant earlier = tag.lostAt;
            if (earlier == null || reading.measuredAt().isBefore(earlier)) {
                tag.lostAt = reading.measuredAt();
            }
            rejects.reject(connection, RejectReason.LOG_FULL, unit + ": not kept, " + why, reading.toString());
        }
    }

    private static RawReading mark(Tag tag, Instant at) {
        return new RawReading(tag.source(), at, RawValue.NONE, DataValues.NO_COMMUNICATION);
    }

    /** Readings of one unit; {@code tags} says whose each is. */
    private record Batch(List<Tag> tags, List<RawReading> readings) {

        void add(Tag tag, RawReading reading) {
            tags.add(tag);
            readings.add(reading);
        }
    }
}
