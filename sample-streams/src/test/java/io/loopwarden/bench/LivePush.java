package io.loopwarden.bench;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;

/** From a change at the controller to the open page, with every unit sending all its values once a second. */
final class LivePush implements BenchMain.Row {

    private static final double GOAL_P50_MS = 300;
    private static final double GOAL_P99_MS = 1500;
    private static final int SETTLE_S = 20;

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int units = wanted.units();
        List<Line> lines = new ArrayList<>(watch(wanted, units, 1, wanted.minutes()));
        if (wanted.size() == Wanted.Size.FULL) {
            lines.addAll(watch(wanted, 10, 1, 1));
            lines.addAll(watch(wanted, 100, 1, 1));
            lines.addAll(watch(wanted, 10_000, 0.1, 2));
        }
        return new Sheet(lines, List.of());
    }

    private static List<Line> watch(Wanted wanted, int units, double hertz, double minutes) throws Exception {
        try (LiveRig rig = new LiveRig(wanted.root(), units, hertz)) {
            PageReader page = new PageReader();
            rig.service
                    .http
                    .newWebSocketBuilder()
                    .connectTimeout(Duration.ofSeconds(10))
                    .buildAsync(rig.service.address("ws", "/api/v1/live"), page)
                    .get(10, TimeUnit.SECONDS);
            pass(wanted.of(1, SETTLE_S, SETTLE_S));
            page.count();
            double cpuS = rig.service.cpuS();
            long begin = System.nanoTime();
            pass(Math.max(3, 60 * minutes));
            double seconds = (System.nanoTime() - begin) / 1e9;
            double cpuShare = (rig.service.cpuS() - cpuS) / seconds;
            String fleet = units + " units at " + Sheet.number(hertz) + " Hz";
            double changes = page.changes();
            if (changes < 0.9 * units * hertz * seconds || rig.sender.refused() > 0) {
                throw new IllegalStateException(fleet + ": " + changes + " changes reached the page in " + seconds
                        + " s; " + rig.sender.refused() + " messages were refused");
            }
            return List.of(
                    Line.atMost(
                            "change at the controller to the page, p50, " + fleet,
                            Runs.of(page.ageMs(0.5)),
                            "ms",
                            GOAL_P50_MS),
                    Line.atMost(
                            "the same, p99, over " + Sheet.number(seconds / 60) + " min",
                            Runs.of(page.ageMs(0.99)),
                            "ms",
                            GOAL_P99_MS),
                    Line.told("the sender at worst behind its own time table", Runs.of(rig.sender.latestByMs()), "ms"),
                    Line.told("sent to the page, " + fleet, Runs.of(page.bytes() / seconds / 1e6), "MB/s"),
                    Line.told(
                            "processor time of service and database a unit and second, " + fleet,
                            Runs.of(1e3 * cpuShare / units),
                            "ms"),
                    Line.told("memory of the service at most, " + fleet, Runs.of(rig.service.peakMb()), "MB"));
        }
    }

    private static void pass(double seconds) {
        long until = System.nanoTime() + (long) (seconds * 1e9);
        while (System.nanoTime() < until) {
            LockSupport.parkNanos(until - System.nanoTime());
        }
    }
}
