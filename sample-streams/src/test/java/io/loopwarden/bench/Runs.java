package io.loopwarden.bench;

import java.util.Arrays;
import java.util.List;

/** One figure measured several times. */
record Runs(List<Double> values) {

    Runs {
        values = List.copyOf(values);
        if (values.isEmpty()) {
            throw new IllegalArgumentException("a figure needs at least one run");
        }
    }

    static Runs of(double... values) {
        return new Runs(Arrays.stream(values).boxed().toList());
    }

    double median() {
        return quantile(0.5);
    }

    double least() {
        return quantile(0);
    }

    double most() {
        return quantile(1);
    }

    /** By linear interpolation between ordered runs. */
    double quantile(double share) {
        double[] sorted = values.stream().mapToDouble(v -> v).sorted().toArray();
        double place = share * (sorted.length - 1);
        int below = (int) Math.floor(place);
        int above = (int) Math.ceil(place);
        return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
    }

    /** Run by run, so that what disturbs both falls out; of the medians where one was measured more often. */
    Runs over(Runs other) {
        if (other.values.size() != values.size()) {
            return of(median() / other.median());
        }
        double[] ratios = new double[values.size()];
        for (int i = 0; i < ratios.length; i++) {
            ratios[i] = values.get(i) / other.values.get(i);
        }
        return of(ratios);
    }
}
