package io.loopwarden.cohort;

import java.util.List;
import java.util.Objects;

/**
 * Units that have something in common, each with one value of what is compared.
 *
 * @param name what they have in common
 */
public record Cohort(String name, List<Double> values) {

    public Cohort {
        Objects.requireNonNull(name, "name");
        values = List.copyOf(values);
    }

    double[] array() {
        return values.stream().mapToDouble(Double::doubleValue).toArray();
    }
}
