package io.loopwarden.pointmap;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.yaml.YamlMap;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;

/** Reads one entry of a point map's list {@code points}. */
final class PointField {

    private static final int LONGEST_SOURCE = 400;

    private static final List<String> FIELDS =
            List.of("point", "source", "unit", "sign", "scale", "offset", "full-scale", "range");

    private static final List<String> MODBUS_FIELDS = Stream.concat(
                    FIELDS.stream(), Stream.of("type", "words", "no-value"))
            .toList();

    private PointField() {}

    /** The entry; empty if anything it needs has a fault. */
    static Optional<PointMap.Entry> read(YamlMap point, boolean modbus) {
        Optional<PointName> name = point.requiredText("point").flatMap(word -> pointName(point, word));
        Optional<String> source = point.requiredText("source").flatMap(tag -> source(point, tag));
        Optional<Conversion> conversion = conversion(point, name);
        Optional<RegisterLayout> register =
                modbus ? source.flatMap(tag -> RegisterField.read(point, tag)) : Optional.empty();
        Optional<PhysicalRange> range = conversion.flatMap(c -> range(point, name.orElseThrow(), c));
        point.refuseOthers(modbus ? MODBUS_FIELDS : FIELDS);
        if (name.isEmpty() || source.isEmpty() || conversion.isEmpty() || range.isEmpty()) {
            return Optional.empty();
        }
        if (modbus && register.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new PointMap.Entry(
                name.get(),
                source.get(),
                conversion.get(),
                register.orElse(null),
                range.get().lowSi(),
                range.get().highSi()));
    }

    private static Optional<PointName> pointName(YamlMap point, String word) {
        try {
            return Optional.of(PointName.of(word));
        } catch (IllegalArgumentException unknown) {
            point.fault("point", unknown.getMessage());
            return Optional.empty();
        }
    }

    private static Optional<String> source(YamlMap point, String tag) {
        if (tag.length() > LONGEST_SOURCE || tag.chars().anyMatch(Character::isISOControl)) {
            point.fault("source", "must be at most " + LONGEST_SOURCE + " characters without control characters");
            return Optional.empty();
        }
        return Optional.of(tag);
    }

    /** inside = ((raw · sign · scale + offset) [/ full-scale]) · factor of the unit + offset of the unit. */
    private static Optional<Conversion> conversion(YamlMap point, Optional<PointName> name) {
        double sign = sign(point);
        double scale = nonZero(point, "scale");
        double offset = point.number("offset").orElse(0);
        OptionalDouble fullScale = fullScale(point, name);
        Optional<Conversion> unit = unit(point, name, fullScale);
        return unit.flatMap(u -> {
            double factor = sign * scale * u.factor();
            double innerOffset = offset * u.factor() + u.offset();
            if (!Double.isFinite(factor) || factor == 0 || !Double.isFinite(innerOffset)) {
                point.fault("scale", "scale, offset and unit together give no usable factor: " + factor);
                return Optional.empty();
            }
            return Optional.of(new Conversion(factor, innerOffset, u.ucum()));
        });
    }

    private static double sign(YamlMap point) {
        OptionalDouble sign = point.number("sign");
        if (sign.isPresent() && Math.abs(sign.getAsDouble()) != 1) {
            point.fault("sign", "must be 1 or -1; a factor goes to 'scale'");
            return 1;
        }
        return sign.orElse(1);
    }

    private static double nonZero(YamlMap point, String key) {
        OptionalDouble value = point.number(key);
        if (value.isPresent() && value.getAsDouble() == 0) {
            point.fault(key, "must not be 0");
            return 1;
        }
        return value.orElse(1);
    }

    /** A ratio that the source gives in another unit, for example a speed in rpm: the reading that stands for 1. */
    private static OptionalDouble fullScale(YamlMap point, Optional<PointName> name) {
        OptionalDouble fullScale = point.number("full-scale");
        if (fullScale.isEmpty() || name.isEmpty()) {
            return fullScale;
        }
        if (name.get().quantity() != Quantity.RATIO) {
            point.fault(
                    "full-scale",
                    "is only for ratios, and " + name.get() + " is a "
                            + UcumUnits.words(name.get().quantity()));
            return OptionalDouble.empty();
        }
        if (fullScale.getAsDouble() <= 0) {
            point.fault("full-scale", "must be more than 0");
            return OptionalDouble.empty();
        }
        return fullScale;
    }

    private static Optional<Conversion> unit(YamlMap point, Optional<PointName> name, OptionalDouble fullScale) {
        if (name.isEmpty() || point.has("full-scale") != fullScale.isPresent()) {
            return Optional.empty();
        }
        Quantity quantity = name.get().quantity();
        boolean bare = quantity == Quantity.FLAG || quantity == Quantity.COUNT;
        Optional<String> code = bare && !point.has("unit") ? Optional.of("1") : point.requiredText("unit");
        return code.flatMap(c ->
                fullScale.isPresent() ? ofFullScale(point, c, fullScale.getAsDouble()) : plain(point, c, quantity));
    }

    private static Optional<Conversion> ofFullScale(YamlMap point, String code, double fullScale) {
        if (!UcumUnits.isUnit(code)) {
            point.fault("unit", "'" + code + "' is not a UCUM unit we know");
            return Optional.empty();
        }
        return Optional.of(new Conversion(1 / fullScale, 0, code));
    }

    private static Optional<Conversion> plain(YamlMap point, String code, Quantity quantity) {
        UnitLookup lookup = UcumUnits.conversion(code, quantity);
        if (lookup instanceof UnitLookup.Refused refused) {
            point.fault("unit", refused.message());
        }
        return lookup.known();
    }

    /** The plausible range in the inner unit; the map gives it in the unit of {@code unit}, after scale and offset. */
    private static Optional<PhysicalRange> range(YamlMap point, PointName name, Conversion conversion) {
        PhysicalRange physical = PhysicalRange.of(name.quantity());
        if (!point.has("range")) {
            return Optional.of(physical);
        }
        Optional<List<Double>> given = point.numbers("range");
        if (given.isEmpty()) {
            return Optional.empty();
        }
        if (given.get().size() != 2) {
            point.fault("range", "must be two numbers, [lowest, highest]");
            return Optional.empty();
        }
        double low = given.get().get(0);
        double high = given.get().get(1);
        if (low >= high) {
            point.fault("range", "is reversed or empty: " + low + " to " + high);
            return Optional.empty();
        }
        Conversion unit = ofUnit(point, name, conversion);
        double lowSi = unit.apply(low);
        double highSi = unit.apply(high);
        if (!physical.overlaps(lowSi, highSi)) {
            point.fault(
                    "range",
                    "excludes every value that " + name + " can have: " + lowSi + " to " + highSi + " "
                            + name.quantity().ucum() + " lies outside " + physical.lowSi() + " to " + physical.highSi()
                            + "; is the unit right?");
            return Optional.empty();
        }
        return Optional.of(new PhysicalRange(lowSi, highSi));
    }

    private static Conversion ofUnit(YamlMap point, PointName name, Conversion whole) {
        OptionalDouble fullScale = point.number("full-scale");
        return fullScale.isPresent()
                ? new Conversion(1 / fullScale.getAsDouble(), 0, whole.ucum())
                : UcumUnits.conversion(whole.ucum(), name.quantity()).known().orElseThrow();
    }
}
