package io.loopwarden.watch;

import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.time.Instant;
import java.util.List;

/**
 * Prints what taking a sample and working out all figures cost. Run by hand:
 * {@code java -cp analytics/target/classes:analytics/target/test-classes io.loopwarden.watch.UnitWatchTiming}.
 */
final class UnitWatchTiming {

    /** Time of this thread, so that whatever else the machine does is left out. */
    private static final ThreadMXBean CPU = ManagementFactory.getThreadMXBean();

    private static final int ROUNDS = 5;
    private static final int SECONDS = 5_000;

    private UnitWatchTiming() {}

    public static void main(String[] arguments) {
        for (int round = 0; round < ROUNDS; round++) {
            measure("steady", new Bench());
            Bench moving = new Bench();
            moving.signal(Points.TCS_FLOW, t -> 0.022 + 0.002 * Math.sin(t / 30));
            measure("moving", moving);
        }
    }

    private static void measure(String name, Bench bench) {
        bench.run(900);
        List<Sample> samples = bench.record(SECONDS);
        int perSecond = samples.size() / SECONDS;
        long accepting = 0;
        long evaluating = 0;
        long figures = 0;
        for (int second = 0; second < SECONDS; second++) {
            List<Sample> scan = samples.subList(second * perSecond, (second + 1) * perSecond);
            Instant at = scan.get(0).measuredAt();
            long start = CPU.getCurrentThreadCpuTime();
            scan.forEach(bench.watch::accept);
            long accepted = CPU.getCurrentThreadCpuTime();
            UnitFigures evaluated = bench.watch.evaluate(at);
            evaluating += CPU.getCurrentThreadCpuTime() - accepted;
            accepting += accepted - start;
            figures += evaluated.results().stream()
                    .filter(result -> result.value().isAvailable())
                    .count();
        }
        System.out.printf(
                "%s: accept %4d ns per sample, evaluate %6.1f µs, %.1f figures%n",
                name, accepting / samples.size(), evaluating / 1e3 / SECONDS, (double) figures / SECONDS);
    }
}
