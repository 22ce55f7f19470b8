package io.loopwarden.bench;

import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.store.EmbeddedStore;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.StoreSettings;
import io.loopwarden.virtual.serve.Broker;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;

/** Start of the service on a store that holds the last quarter of an hour of every unit, and the memory it takes. */
final class ServiceStart implements BenchMain.Row {

    private static final double GOAL_S = 3;
    private static final double GOAL_MB = 512;
    private static final int STORED_S = 900;
    private static final int SCANS_A_BATCH = 5000;

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int units = wanted.units();
        int runs = wanted.of(1, 3, 5);
        double[] startS = new double[runs];
        double[] figuresS = new double[runs];
        double[] memoryMb = new double[runs];
        try (Folder folder = Folder.make()) {
            Path fleet = folder.path().resolve("fleet");
            Path data = folder.path().resolve("data");
            PlayedUnit played = new PlayedUnit(wanted.root(), 300);
            try (Broker broker = Broker.start(folder.path().resolve("broker"), 0)) {
                FleetFiles.write(wanted.root(), fleet, units, broker.address());
                for (int run = 0; run < runs; run++) {
                    fill(data, played, units, run == 0 ? STORED_S : 30);
                    long begin = System.nanoTime();
                    try (BenchService service = BenchService.launch(wanted.root(), fleet, data)) {
                        service.awaitAnswer("/q/health/live");
                        startS[run] = (System.nanoTime() - begin) / 1e9;
                        try (Sender sender = new Sender(broker.address(), played, units, 1)) {
                            service.awaitAnswer("/q/health/ready");
                            figuresS[run] = (System.nanoTime() - begin) / 1e9;
                            for (int i = 0; i < wanted.of(1, 20, 60); i++) {
                                service.get("/api/v1/fleet");
                            }
                            if (sender.refused() > 0) {
                                throw new IllegalStateException(sender.refused() + " messages were refused");
                            }
                        }
                        memoryMb[run] = service.peakMb();
                    }
                }
            }
        }
        return Sheet.of(
                Line.atMost(
                        "service start, " + units + " units, until it answers and collects",
                        Runs.of(startS),
                        "s",
                        GOAL_S),
                Line.told("until every unit shows live figures", Runs.of(figuresS), "s"),
                Line.atMost("memory of the service at most, without its database", Runs.of(memoryMb), "MB", GOAL_MB));
    }

    /** The last seconds before now of every unit, as the service left them before a stop. */
    private static void fill(Path data, PlayedUnit played, int units, int seconds) throws Exception {
        Instant now = Instant.now().truncatedTo(ChronoUnit.SECONDS);
        try (EmbeddedStore server = EmbeddedStore.start(data.resolve("store"));
                SampleStore store = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC())) {
            List<Scan> batch = new ArrayList<>();
            for (int second = seconds; second > 0; second--) {
                Instant at = now.minusSeconds(second);
                for (int unit = 0; unit < units; unit++) {
                    batch.add(new Scan(new UnitId(FleetFiles.id(unit)), at, played.samples(second + unit, at)));
                }
                if (batch.size() >= SCANS_A_BATCH || second == 1) {
                    store.store(batch);
                    batch.clear();
                }
            }
        }
    }
}
