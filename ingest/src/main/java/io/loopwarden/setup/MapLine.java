package io.loopwarden.setup;

import io.loopwarden.fleet.PointName;
import io.loopwarden.pointmap.UcumUnits;
import io.loopwarden.pointmap.UnitLookup;
import java.util.Objects;
import java.util.OptionalDouble;

/**
 * One line of a point map that is being made: inside = (raw · sign · scale + offset), in the unit of measure.
 *
 * @param source the tag as it was seen
 * @param ucum unit of measure of what the source sends
 * @param sign 1, or −1 where the source counts the other way
 * @param raw the newest number that was seen; empty if none
 */
public record MapLine(
        PointName point, String source, String ucum, double scale, double offset, int sign, OptionalDouble raw) {

    public MapLine {
        Objects.requireNonNull(point, "point");
        Objects.requireNonNull(source, "source");
        Objects.requireNonNull(ucum, "ucum");
        Objects.requireNonNull(raw, "raw");
        if (scale == 0 || !Double.isFinite(scale) || !Double.isFinite(offset) || (sign != 1 && sign != -1)) {
            throw new IllegalArgumentException(point + ": scale is " + scale + ", offset " + offset + " and sign "
                    + sign + "; scale must not be 0, sign must be 1 or -1");
        }
    }

    /** The value in the point's inner unit; empty without a number or where the unit does not fit. */
    public OptionalDouble valueSi() {
        return raw.isPresent() && UcumUnits.conversion(ucum, point.quantity()) instanceof UnitLookup.Known known
                ? OptionalDouble.of(known.conversion().apply(raw.getAsDouble() * scale * sign + offset))
                : OptionalDouble.empty();
    }

    public MapLine withPoint(PointName other) {
        return new MapLine(other, source, ucum, scale, offset, sign, raw);
    }

    public MapLine withUcum(String other) {
        return new MapLine(point, source, other, scale, offset, sign, raw);
    }

    /** The same, counted the other way. */
    public MapLine turned() {
        return new MapLine(point, source, ucum, scale, offset, -sign, raw);
    }

    /** The same, counted from full to empty, as a valve that is reported by how far it is closed. */
    public MapLine complement() {
        return new MapLine(point, source, ucum, scale, ucum.equals("%") ? 100 - offset : 1 - offset, -sign, raw);
    }
}
