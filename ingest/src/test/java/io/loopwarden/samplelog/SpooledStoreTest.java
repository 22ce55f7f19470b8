package io.loopwarden.samplelog;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.spool.Spool;
import io.loopwarden.spool.SpoolLimits;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

@Timeout(30)
class SpooledStoreTest {

    private static final Instant NOON = Instant.parse("2026-11-18T12:00:00Z");
    private static final LogLimits LIMITS = new LogLimits(
            1_000,
            Duration.ofMillis(50),
            10,
            Duration.ofMillis(1),
            Duration.ofMillis(1),
            Duration.ofMillis(5),
            3,
            Duration.ofMillis(500));
    private static final SpoolLimits BOUND = new SpoolLimits(20_000, 1_000);

    @TempDir
    Path folder;

    private final List<Scan> stored = Collections.synchronizedList(new ArrayList<>());
    private volatile boolean away;
    private volatile UnitId poison;

    private StoredCounts store(List<Scan> scans) throws StoreUnavailableException {
        if (away) {
            throw new StoreUnavailableException("connection refused", null);
        }
        if (scans.stream().anyMatch(scan -> scan.unit().equals(poison))) {
            throw new IllegalStateException("cannot be encoded");
        }
        stored.addAll(scans);
        return new StoredCounts(scans.size(), 0, 0, 0, 0);
    }

    private static Scan scan(String unit, int second) {
        Instant at = NOON.plusSeconds(second);
        return new Scan(new UnitId(unit), at, List.of(Sample.good(Points.TCS_FLOW, at, second)));
    }

    private static List<Scan> scans(int from, int to) {
        List<Scan> scans = new ArrayList<>();
        for (int i = from; i < to; i++) {
            scans.add(scan("E-01", i));
        }
        return scans;
    }

    private SpooledStore open() throws IOException {
        return new SpooledStore(this::store, Spool.open(folder, BOUND), LIMITS);
    }

    @Test
    void whileTheStoreIsAwayScansAreAcknowledgedFromDiskAndStoredInOrderLater() throws Exception {
        try (SpooledStore spooled = open();
                QueuedSampleLog log = new QueuedSampleLog(spooled, LIMITS)) {
            log.append(scan("E-01", 0)).join();
            away = true;
            for (int i = 1; i < 60; i++) {
                log.append(scan("E-01", i)).join();
            }
            assertThat(stored).hasSize(1);
            assertThat(spooled.status().spool().heldSamples()).isEqualTo(59);
            assertThat(log.status().with(spooled.status()).lastError()).contains("connection refused");
            away = false;
            await().until(() -> spooled.status().error().isEmpty());
            log.append(scan("E-01", 60)).join();
            assertThat(stored).isEqualTo(scans(0, 61));
            assertThat(spooled.status().spool().heldSamples()).isZero();
            assertThat(log.status().with(spooled.status()).counts().stored()).isEqualTo(61);
        }
    }

    @Test
    void whatIsHeldOutlivesARestart() throws Exception {
        away = true;
        try (SpooledStore spooled = open()) {
            spooled.store(scans(0, 30));
        }
        away = false;
        try (SpooledStore again = open()) {
            again.store(scans(30, 31));
            await().until(() -> again.status().error().isEmpty());
            assertThat(stored).isEqualTo(scans(0, 31));
        }
    }

    @Test
    void aFullSpoolHoldsTheSourcesBackAndLosesNothing() throws Exception {
        away = true;
        try (SpooledStore spooled = open();
                QueuedSampleLog log = new QueuedSampleLog(spooled, LIMITS)) {
            List<CompletableFuture<Void>> given = new ArrayList<>();
            CompletableFuture<Void> newest = new CompletableFuture<>();
            while (!newest.isCompletedExceptionally() && given.size() < 5_000) {
                newest = log.append(scan("E-01", given.size()));
                given.add(newest);
            }
            assertThatThrownBy(newest::join).hasMessageContaining("no room");
            int taken = given.size() - 1;
            assertThat(given.subList(0, taken)).anyMatch(done -> !done.isDone());
            assertThat(spooled.status().spool().heldBytes()).isLessThanOrEqualTo(20_000);
            away = false;
            CompletableFuture.allOf(given.subList(0, taken).toArray(CompletableFuture[]::new))
                    .get(20, TimeUnit.SECONDS);
            await().until(() -> spooled.status().error().isEmpty());
            assertThat(stored).isEqualTo(scans(0, taken));
        }
    }

    @Test
    void aScanThatCannotBeStoredStopsNoOther() throws Exception {
        away = true;
        try (SpooledStore spooled = open()) {
            spooled.store(List.of(scan("E-01", 0), scan("E-13", 1), scan("E-02", 2)));
            poison = new UnitId("E-13");
            away = false;
            await().until(() -> spooled.status().error().isEmpty());
            assertThat(stored).containsExactly(scan("E-01", 0), scan("E-02", 2));
            assertThat(spooled.status().unstorable()).isEqualTo(1);
        }
    }
}
