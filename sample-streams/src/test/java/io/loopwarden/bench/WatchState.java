package io.loopwarden.bench;

import io.loopwarden.fleet.Sample;
import io.loopwarden.watch.UnitFigures;
import io.loopwarden.watch.UnitWatch;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;

/** A watch in the middle of its work: each call is a second later than the one before. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(java.util.concurrent.TimeUnit.MICROSECONDS)
public class WatchState {

    private static final int FILLED_S = 1000;

    /** The repository. */
    @Param(".")
    public String root;

    private PlayedUnit played;
    private UnitWatch watch;
    private int second;

    @Setup
    public void fill() {
        played = new PlayedUnit(Path.of(root), 600);
        watch = new UnitWatch(played.unit("J-01"));
        while (second < FILLED_S) {
            takeScan();
        }
    }

    /** One unit's samples of one second. */
    @Benchmark
    public UnitWatch takeScan() {
        List<Sample> samples = played.samples(second, at());
        for (Sample sample : samples) {
            watch.accept(sample);
        }
        second++;
        return watch;
    }

    /** The same, then all indicators of all functions. */
    @Benchmark
    public UnitFigures takeScanAndEvaluate() {
        takeScan();
        return watch.evaluate(at());
    }

    private Instant at() {
        return PlayedUnit.START.plusSeconds(second);
    }
}
