package io.loopwarden.store;

import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.samplelog.LogLimits;
import io.loopwarden.samplelog.QueuedSampleLog;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;

/**
 * A service to be killed: writes numbered scans to the embedded store in a folder and prints the number of each that was
 * acknowledged. Ends when its input does.
 */
final class KilledWriter {

    static final Instant START = Instant.parse("2026-11-16T00:00:00Z");
    static final int UNITS = 5;

    /** Small batches: many commits to be killed in. */
    private static final LogLimits LIMITS = new LogLimits(
            1000,
            Duration.ofSeconds(5),
            100,
            Duration.ofMillis(2),
            Duration.ofMillis(100),
            Duration.ofSeconds(5),
            1000,
            Duration.ofSeconds(10));

    private KilledWriter() {}

    public static void main(String[] args) throws Exception {
        Path folder = Path.of(args[0]);
        int first = Integer.parseInt(args[1]);
        endWithInput();
        EmbeddedStore server = EmbeddedStore.start(folder);
        StoreSettings settings = StoreContract.noSettling(StoreSettings.DEFAULT);
        try (SampleStore store = SampleStore.open(server.dataSource(), settings, Clock.systemUTC());
                StoreUpkeep upkeep = new StoreUpkeep(store, Duration.ofMillis(20));
                QueuedSampleLog log = new QueuedSampleLog(store, LIMITS)) {
            System.out.println("up " + upkeep.getClass().getSimpleName());
            for (int n = first; ; n++) {
                int number = n;
                log.append(scan(n)).thenRun(() -> System.out.println(number));
            }
        }
    }

    static Scan scan(int n) {
        Instant at = START.plusSeconds(n);
        return new Scan(
                new UnitId("K-" + n % UNITS),
                at,
                List.of(Sample.good(Points.TCS_FLOW, at, n / 8.0), Sample.good(Points.FWS_FLOW, at, n)));
    }

    private static void endWithInput() {
        Thread watch = new Thread(() -> {
            try {
                System.in.transferTo(java.io.OutputStream.nullOutputStream());
            } catch (IOException e) {
                System.err.println("input broke: " + e);
            }
            Runtime.getRuntime().halt(0);
        });
        watch.setDaemon(true);
        watch.start();
    }
}
