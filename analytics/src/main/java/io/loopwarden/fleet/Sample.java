package io.loopwarden.fleet;

import java.time.Instant;
import java.util.Objects;

/**
 * One value of one point at one time.
 *
 * @param measuredAt the source's time; the time of the read where the protocol has none
 * @param raw what the source said, in its own unit
 * @param conversion from the source's unit to the unit inside
 */
public record Sample(PointName point, Instant measuredAt, RawValue raw, Conversion conversion, Quality quality) {

    public Sample {
        Objects.requireNonNull(point, "point");
        Objects.requireNonNull(measuredAt, "measuredAt");
        Objects.requireNonNull(raw, "raw");
        Objects.requireNonNull(conversion, "conversion");
        Objects.requireNonNull(quality, "quality");
        if (raw instanceof RawValue.None && quality.level() != Quality.Level.BAD) {
            throw new IllegalArgumentException(point + " has no value but quality " + quality.level());
        }
    }

    /** A good sample that is already in the inner unit of its point; for streams that are made, and tests. */
    public static Sample good(PointName point, Instant measuredAt, double valueSi) {
        return new Sample(point, measuredAt, RawValue.of(valueSi), Conversion.none(point.quantity()), Quality.GOOD);
    }

    public boolean hasValue() {
        return !(raw instanceof RawValue.None);
    }

    /**
     * The value in the inner unit of the point's quantity.
     *
     * @throws IllegalStateException if there is none; ask {@link #hasValue()} first
     */
    public double valueSi() {
        if (raw instanceof RawValue.Decimal decimal) {
            return conversion.apply(decimal.value());
        }
        if (raw instanceof RawValue.Whole whole) {
            return conversion.apply((double) whole.value());
        }
        throw new IllegalStateException(point + " at " + measuredAt + " has no value");
    }
}
