package io.loopwarden.watch;

import io.loopwarden.fleet.Sample;
import java.time.Instant;
import java.util.List;

/**
 * Prints what taking a sample and working out all figures cost. Run by hand:
 * {@code java -cp analytics/target/classes:analytics/target/test-classes io.loopwarden.watch.UnitWatchTiming}.
 */
final class UnitWatchTiming {

    private static final int ROUNDS = 8;
    private static final int SECONDS = 20_000;

    private UnitWatchTiming() {}

    public static void main(String[] arguments) {
        for (int round = 0; round < ROUNDS; round++) {
            Bench bench = new Bench();
            bench.run(900);
            List<Sample> samples = bench.record(SECONDS);
            int perSecond = samples.size() / SECONDS;
            long accepting = 0;
            long evaluating = 0;
            int figures = 0;
            for (int second = 0; second < SECONDS; second++) {
                List<Sample> scan = samples.subList(second * perSecond, (second + 1) * perSecond);
                Instant at = scan.get(0).measuredAt();
                long start = System.nanoTime();
                scan.forEach(bench.watch::accept);
                long accepted = System.nanoTime();
                figures += (int) bench.watch.evaluate(at).results().stream()
                        .filter(result -> result.value().isAvailable())
                        .count();
                evaluating += System.nanoTime() - accepted;
                accepting += accepted - start;
            }
            System.out.printf(
                    "accept %5d ns per sample, evaluate %7.2f µs, %.2f figures of %d%n",
                    accepting / samples.size(),
                    evaluating / 1e3 / SECONDS,
                    (double) figures / SECONDS,
                    bench.evaluate().results().size());
        }
    }
}
