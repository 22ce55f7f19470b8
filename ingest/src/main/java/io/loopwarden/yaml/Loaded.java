package io.loopwarden.yaml;

import java.util.List;
import java.util.Objects;
import java.util.Optional;

/** What came of reading a file: the value, or every fault that stands in its way. */
public record Loaded<T>(Optional<T> value, List<Fault> faults) {

    public Loaded {
        Objects.requireNonNull(value, "value");
        faults = List.copyOf(faults);
        if (value.isPresent() != faults.isEmpty()) {
            throw new IllegalArgumentException("a file gives a value or faults, not both and not neither: " + faults);
        }
    }

    public static <T> Loaded<T> of(T value) {
        return new Loaded<>(Optional.of(value), List.of());
    }

    public static <T> Loaded<T> failed(List<Fault> faults) {
        return new Loaded<>(Optional.empty(), faults);
    }
}
