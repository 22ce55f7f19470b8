package io.loopwarden.bench;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.openjdk.jmh.profile.GCProfiler;
import org.openjdk.jmh.results.BenchmarkResult;
import org.openjdk.jmh.results.IterationResult;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.runner.options.TimeValue;
import org.openjdk.jmh.runner.options.VerboseMode;

/** Time and memory of one evaluation of a unit, all indicators of all functions, by JMH. */
final class IndicatorCost implements BenchMain.Row {

    private static final double GOAL_US = 200;
    private static final double GOAL_BYTES = 2048;
    private static final String ALLOCATED = "gc.alloc.rate.norm";

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int iterations = wanted.of(1, 5, 10);
        Collection<RunResult> results = new Runner(new OptionsBuilder()
                        .include(WatchState.class.getName() + "\\..*")
                        .param("root", wanted.root().toString())
                        .addProfiler(GCProfiler.class)
                        .forks(wanted.of(0, 1, 3))
                        .warmupIterations(wanted.of(0, 4, 5))
                        .warmupTime(TimeValue.seconds(1))
                        .measurementIterations(iterations)
                        .measurementTime(TimeValue.milliseconds(wanted.of(50, 1000, 1000)))
                        .verbosity(VerboseMode.SILENT)
                        .build())
                .run();
        List<IterationResult> taking = iterations(results, "takeScan");
        List<IterationResult> both = iterations(results, "takeScanAndEvaluate");
        return Sheet.of(
                Line.atMost(
                        "one evaluation of all indicators of a unit",
                        difference(both, taking, r -> r.getPrimaryResult().getScore()),
                        "us",
                        GOAL_US),
                Line.atMost("the same, allocated", difference(both, taking, IndicatorCost::allocated), "B", GOAL_BYTES),
                Line.told(
                        "taking one scan",
                        scores(taking, r -> r.getPrimaryResult().getScore()),
                        "us"),
                Line.told(
                        "the same, allocated, making the samples included",
                        scores(taking, IndicatorCost::allocated),
                        "B"));
    }

    private static List<IterationResult> iterations(Collection<RunResult> results, String method) {
        List<IterationResult> all = new ArrayList<>();
        for (RunResult result : results) {
            if (result.getParams().getBenchmark().endsWith("." + method)) {
                for (BenchmarkResult fork : result.getBenchmarkResults()) {
                    all.addAll(fork.getIterationResults());
                }
            }
        }
        return all;
    }

    private static double allocated(IterationResult result) {
        return result.getSecondaryResults().get(ALLOCATED).getScore();
    }

    private static Runs scores(List<IterationResult> results, ToDoubleFunction<IterationResult> score) {
        return Runs.of(results.stream().mapToDouble(score).toArray());
    }

    private static Runs difference(
            List<IterationResult> more, List<IterationResult> less, ToDoubleFunction<IterationResult> score) {
        double[] differences = new double[more.size()];
        for (int i = 0; i < differences.length; i++) {
            differences[i] = score.applyAsDouble(more.get(i)) - score.applyAsDouble(less.get(i));
        }
        return Runs.of(differences);
    }
}
