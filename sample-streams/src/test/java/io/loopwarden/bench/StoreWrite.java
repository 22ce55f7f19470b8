package io.loopwarden.bench;

import io.loopwarden.fleet.Scan;
import io.loopwarden.samplelog.QueuedSampleLog;
import io.loopwarden.samplelog.StoredCounts;
import io.loopwarden.store.SampleStore;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;

/** Samples a second from append to committed and readable: through the log, and as keyed rows by COPY. */
final class StoreWrite implements BenchMain.Row {

    static final Instant START = Instant.parse("2026-11-16T00:00:00Z");
    static final Clock CLOCK = Clock.fixed(START.plus(Duration.ofDays(2)), ZoneOffset.UTC);

    private static final int MANY_UNITS = 1000;

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int runs = wanted.of(1, 3, 5);
        int units = wanted.of(10, 100, 100);
        int seconds = wanted.of(10, 100, 300);
        MadeScans made = new MadeScans();
        double[] few = new double[runs];
        double[] many = new double[runs];
        double[] keyed = new double[runs];
        try (BenchStore database = new BenchStore();
                SampleStore store = database.open(CLOCK)) {
            KeyedRows rows = new KeyedRows(database);
            for (int run = 0; run < runs; run++) {
                List<Scan> scans = made.scans(units, START.plusSeconds((long) run * seconds), seconds);
                few[run] = perSecond(store, scans);
                List<Scan> live = made.scans(MANY_UNITS, START.plusSeconds(7200L + run * 30L), wanted.of(1, 10, 30));
                many[run] = perSecond(store, live);
                // Half as many: at a fortieth of the speed it is the longer part all the same.
                List<Scan> half = scans.subList(0, scans.size() / 2);
                keyed[run] = half.size() * (double) MadeScans.POINTS / rows.copy(half);
            }
        }
        return Sheet.of(
                Line.rate(
                        "samples committed and readable, " + units + " units, against keyed rows by COPY",
                        Runs.of(few),
                        Runs.of(keyed),
                        "samples/s",
                        5),
                Line.rate("the same, " + MANY_UNITS + " units", Runs.of(many), Runs.of(keyed), "samples/s", 5));
    }

    private static double perSecond(SampleStore store, List<Scan> scans) {
        try (QueuedSampleLog log = new QueuedSampleLog(store, BenchStore.PATIENT)) {
            long startNs = System.nanoTime();
            List<CompletableFuture<Void>> stored = new ArrayList<>(scans.size());
            for (Scan scan : scans) {
                stored.add(log.append(scan));
            }
            stored.forEach(CompletableFuture::join);
            double seconds = (System.nanoTime() - startNs) / 1e9;
            StoredCounts counts = log.status().counts();
            if (counts.stored() != (long) scans.size() * MadeScans.POINTS) {
                throw new IllegalStateException("of " + scans.size() * MadeScans.POINTS + " samples: " + counts);
            }
            return counts.stored() / seconds;
        }
    }
}
