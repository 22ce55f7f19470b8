package io.loopwarden.collector;

import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.UnitId;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Predicate;
import java.util.stream.Stream;

/** A sink in memory that keeps every call, and fails the first calls on request. */
public final class RecordingSink implements ReadingSink {

    /** One call of {@link #accept}. */
    public record Delivery(UnitId unit, Instant receivedAt, List<RawReading> readings) {}

    private final List<Delivery> deliveries = new CopyOnWriteArrayList<>();
    private final AtomicInteger calls = new AtomicInteger();
    private volatile int callsToFail;

    /** The next calls throw and answer a failed future in turn. */
    public void failNext(int count) {
        callsToFail = calls.get() + count;
    }

    @Override
    public CompletableFuture<Void> accept(UnitId unit, Instant receivedAt, List<RawReading> readings) {
        int call = calls.getAndIncrement();
        if (call < callsToFail && call % 2 == 0) {
            throw new IllegalStateException("the sink throws, as asked");
        }
        if (call < callsToFail) {
            return CompletableFuture.failedFuture(new IllegalStateException("the sink fails later, as asked"));
        }
        deliveries.add(new Delivery(unit, receivedAt, List.copyOf(readings)));
        return CompletableFuture.completedFuture(null);
    }

    public int calls() {
        return calls.get();
    }

    public List<Delivery> deliveries() {
        return deliveries;
    }

    public Stream<RawReading> of(String source) {
        return deliveries.stream()
                .flatMap(delivery -> delivery.readings().stream())
                .filter(reading -> reading.source().equals(source));
    }

    public boolean hasGood(String source, double value) {
        return of(source).anyMatch(good(value));
    }

    /** A good reading of that number, whether it came as a whole or a decimal number. */
    public static Predicate<RawReading> good(double value) {
        return reading -> reading.quality().isGood() && number(reading.value()) == value;
    }

    public boolean hasBad(String source) {
        return of(source).anyMatch(reading -> reading.quality().level() == Quality.Level.BAD);
    }

    private static double number(RawValue value) {
        if (value instanceof RawValue.Decimal decimal) {
            return decimal.value();
        }
        return value instanceof RawValue.Whole whole ? whole.value() : Double.NaN;
    }
}
