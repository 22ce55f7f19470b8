package io.loopwarden.samplelog;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

class QueuedSampleLogTest {

    private static final Instant NOON = Instant.parse("2026-11-18T12:00:00Z");
    private static final LogLimits SMALL = new LogLimits(
            4,
            Duration.ofMillis(50),
            2,
            Duration.ofMillis(10),
            Duration.ofMillis(1),
            Duration.ofMillis(5),
            3,
            Duration.ofMillis(300));

    /** A store that can be away, hold a write up, or trip over a scan. */
    private static final class FakeStore implements ScanStore {

        final List<Scan> stored = Collections.synchronizedList(new ArrayList<>());
        final Semaphore permits = new Semaphore(1_000_000);
        volatile boolean away;
        volatile UnitId poison;

        @Override
        public StoredCounts store(List<Scan> scans) throws StoreUnavailableException {
            if (away) {
                throw new StoreUnavailableException("connection refused", null);
            }
            if (scans.stream().anyMatch(scan -> scan.unit().equals(poison))) {
                throw new IllegalStateException("cannot be encoded");
            }
            permits.acquireUninterruptibly();
            stored.addAll(scans);
            return new StoredCounts(scans.size(), 0, 0, 0, 0);
        }
    }

    private final FakeStore store = new FakeStore();
    private final QueuedSampleLog log = new QueuedSampleLog(store, SMALL);

    @AfterEach
    void close() {
        store.permits.release(1000);
        log.close();
    }

    private static Scan scan(String unit, int second) {
        Instant at = NOON.plusSeconds(second);
        return new Scan(new UnitId(unit), at, List.of(Sample.good(Points.TCS_FLOW, at, second)));
    }

    @Test
    void acknowledgesAfterStoringInOrder() {
        List<Scan> given = new ArrayList<>();
        List<CompletableFuture<Void>> acknowledged = new ArrayList<>();
        for (int i = 0; i < 50; i++) {
            given.add(scan(i % 2 == 0 ? "E-01" : "E-02", i));
            acknowledged.add(log.append(given.get(i)));
        }
        acknowledged.forEach(CompletableFuture::join);
        assertThat(store.stored).isEqualTo(given);
        assertThat(log.status().counts().stored()).isEqualTo(50);
        assertThat(log.status().queuedSamples()).isZero();
    }

    @Test
    void aStoreThatIsAwayLosesAndAcknowledgesNothing() {
        store.away = true;
        List<CompletableFuture<Void>> waiting = new ArrayList<>();
        for (int i = 0; i < 4; i++) {
            waiting.add(log.append(scan("E-01", i)));
        }
        assertThatThrownBy(log.append(scan("E-01", 4))::join)
                .isInstanceOf(CompletionException.class)
                .cause()
                .isInstanceOf(LogFullException.class)
                .hasMessageContaining("holds 4 of 4 samples")
                .hasMessageContaining("E-01");
        await().until(() -> log.status().failures() > 3);
        assertThat(log.status().lastError()).contains("connection refused");
        assertThat(log.status().refusedScans()).isEqualTo(1);
        assertThat(waiting).noneMatch(CompletableFuture::isDone);
        store.away = false;
        waiting.forEach(CompletableFuture::join);
        assertThat(store.stored).hasSize(4);
        assertThat(log.status().lastError()).isEmpty();
    }

    @Test
    void aFaultWithOneScanStopsNoOther() {
        store.poison = new UnitId("E-13");
        store.permits.drainPermits();
        List<CompletableFuture<Void>> good = new ArrayList<>();
        good.add(log.append(scan("E-01", 0)));
        CompletableFuture<Void> bad = log.append(scan("E-13", 1));
        good.add(log.append(scan("E-01", 2)));
        store.permits.release(1000);
        good.forEach(CompletableFuture::join);
        assertThatThrownBy(bad::join).hasMessageContaining("cannot be encoded");
        assertThat(store.stored).hasSize(2);
        assertThat(log.status().queuedSamples()).isZero();
    }

    @Test
    void aSlowListenerHoldsNothingUpAndIsToldWhatItMissed() throws Exception {
        Semaphore gate = new Semaphore(0);
        List<Scan> heard = Collections.synchronizedList(new ArrayList<>());
        AtomicLong missed = new AtomicLong();
        ScanListener slow = new ScanListener() {
            @Override
            public void onScan(Scan scan) {
                gate.acquireUninterruptibly();
                heard.add(scan);
            }

            @Override
            public void onDropped(long scans) {
                missed.addAndGet(scans);
            }
        };
        try (Subscription subscription = log.subscribe(slow)) {
            for (int i = 0; i < 20; i++) {
                log.append(scan("E-01", i)).get(5, TimeUnit.SECONDS);
            }
            gate.release(1000);
            await().until(() -> heard.size() + missed.get() == 20);
            assertThat(subscription.dropped()).isEqualTo(missed.get());
            assertThat(missed.get())
                    .isEqualTo(log.status().droppedForListeners())
                    .isBetween(15L, 18L);
            assertThat(heard).isEqualTo(store.stored.subList(0, heard.size()));
            log.append(scan("E-01", 20)).join();
            await().until(() -> heard.size() + missed.get() == 21);
            assertThat(heard).last().isEqualTo(scan("E-01", 20));
        }
    }

    @Test
    void closingStoresWhatIsQueuedAndRefusesWhatComesAfter() {
        store.permits.drainPermits();
        CompletableFuture<Void> queued = log.append(scan("E-01", 0));
        store.permits.release(1000);
        log.close();
        assertThat(queued).isCompleted();
        assertThatThrownBy(log.append(scan("E-01", 1))::join).hasMessageContaining("closed");
    }

    @Test
    void closingWhileTheStoreIsAwayRefusesTheRestInBoundedTime() {
        store.away = true;
        CompletableFuture<Void> first = log.append(scan("E-01", 0));
        CompletableFuture<Void> second = log.append(scan("E-01", 1));
        log.close();
        assertThat(first).isCompletedExceptionally();
        assertThat(second).isCompletedExceptionally();
        assertThat(store.stored).isEmpty();
    }
}
