package io.loopwarden.fleet;

import java.util.Objects;
import java.util.concurrent.ConcurrentHashMap;

/**
 * A canonical measured quantity of a unit, for example {@code tcs.supply.temperature}; see {@link Points} for all of them.
 * Instances are shared: two equal names are the same object.
 */
public final class PointName implements Comparable<PointName> {

    private static final ConcurrentHashMap<String, PointName> KNOWN = new ConcurrentHashMap<>();

    private final String value;
    private final Quantity quantity;

    private PointName(String value, Quantity quantity) {
        this.value = value;
        this.quantity = quantity;
    }

    /**
     * The point of that name.
     *
     * @throws IllegalArgumentException if no such point is in the vocabulary; the message proposes the nearest name
     */
    public static PointName of(String value) {
        Objects.requireNonNull(value, "value");
        PointName known = KNOWN.get(value);
        if (known != null) {
            return known;
        }
        Quantity quantity = Points.quantityOf(value)
                .orElseThrow(() -> new IllegalArgumentException(
                        "unknown point '" + value + "', did you mean '" + Points.nearest(value) + "'?"));
        return KNOWN.computeIfAbsent(value, name -> new PointName(name, quantity));
    }

    public String value() {
        return value;
    }

    public Quantity quantity() {
        return quantity;
    }

    @Override
    public int compareTo(PointName other) {
        return value.compareTo(other.value);
    }

    @Override
    public String toString() {
        return value;
    }
}
