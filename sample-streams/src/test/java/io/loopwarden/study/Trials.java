package io.loopwarden.study;

import java.util.List;
import java.util.Random;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;

/** Trials by number, each with random numbers of its own, so that any can be run alone and all at once. */
final class Trials {

    private static final long GOLDEN = 0x9E3779B97F4A7C15L;

    private Trials() {}

    static <T> List<T> run(long seed, int group, int count, Function<Random, T> trial) {
        return IntStream.range(0, count)
                .parallel()
                .mapToObj(i -> trial.apply(new Random((seed * 31 + group) * GOLDEN + i * 1_000_003L)))
                .toList();
    }

    /** Standard error of a mean over units. */
    static <T> double spread(List<T> units, ToDoubleFunction<T> value) {
        double mean = units.stream().mapToDouble(value).average().orElse(0);
        double squares = units.stream()
                .mapToDouble(u -> Math.pow(value.applyAsDouble(u) - mean, 2))
                .sum();
        int n = units.size();
        return n < 2 ? 0 : Math.sqrt(squares / (n - 1) / n);
    }
}
