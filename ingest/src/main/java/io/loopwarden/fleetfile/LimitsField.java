package io.loopwarden.fleetfile;

import io.loopwarden.fleet.OperatingLimits;
import io.loopwarden.fleet.OperatingLimits.Range;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.pointmap.Measure;
import io.loopwarden.yaml.YamlMap;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads what a unit may be run with; every limit may be missing. */
final class LimitsField {

    private static final List<String> FIELDS = List.of(
            "conductivity-least",
            "conductivity-most",
            "ph-least",
            "ph-most",
            "glycol-least",
            "glycol-most",
            "level-least",
            "level-most",
            "strainer-terminal-dp",
            "npsh-required-m");

    private LimitsField() {}

    static Optional<OperatingLimits> read(YamlMap top, String key) {
        return top.has(key) ? top.map(key).flatMap(LimitsField::read) : Optional.of(OperatingLimits.NONE);
    }

    private static Optional<OperatingLimits> read(YamlMap limits) {
        limits.refuseOthers(FIELDS);
        Optional<Range> conductivity = range(limits, "conductivity", Quantity.CONDUCTIVITY);
        Optional<Range> ph = range(limits, "ph", Quantity.PH);
        Optional<Range> glycol = range(limits, "glycol", Quantity.RATIO);
        Optional<Range> level = range(limits, "level", Quantity.RATIO);
        OptionalDouble strainer = positive(limits, "strainer-terminal-dp", Quantity.DIFFERENTIAL_PRESSURE);
        OptionalDouble npsh = positive(limits, "npsh-required-m", Quantity.COUNT);
        return Optional.of(new OperatingLimits(conductivity, ph, glycol, level, strainer, npsh));
    }

    /** One end may be missing; it then is as wide as the quantity allows. */
    private static Optional<Range> range(YamlMap limits, String name, Quantity quantity) {
        String leastKey = name + "-least";
        String mostKey = name + "-most";
        OptionalDouble least = read(limits, leastKey, quantity);
        OptionalDouble most = read(limits, mostKey, quantity);
        if (least.isEmpty() && most.isEmpty()) {
            return Optional.empty();
        }
        double from = least.orElse(0);
        double to = most.orElse(quantity == Quantity.RATIO ? 1 : quantity == Quantity.PH ? 14 : 100);
        if (from > to) {
            limits.fault(mostKey, "is less than " + leastKey);
            return Optional.empty();
        }
        return Optional.of(new Range(from, to));
    }

    private static OptionalDouble read(YamlMap limits, String key, Quantity quantity) {
        return limits.has(key) ? Measure.read(limits, key, quantity) : OptionalDouble.empty();
    }

    private static OptionalDouble positive(YamlMap limits, String key, Quantity quantity) {
        OptionalDouble value = read(limits, key, quantity);
        if (value.isPresent() && !(value.getAsDouble() > 0)) {
            limits.fault(key, "must be more than 0");
            return OptionalDouble.empty();
        }
        return value;
    }
}
