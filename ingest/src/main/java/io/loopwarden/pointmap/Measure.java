package io.loopwarden.pointmap;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.yaml.YamlMap;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads a field whose text is a number and a UCUM unit, for example {@code rated-duty: 1.4 MW}. */
public final class Measure {

    private Measure() {}

    /** The value in the inner unit of {@code quantity}; empty, and a fault if the field is there, when it cannot be read. */
    public static OptionalDouble read(YamlMap map, String key, Quantity quantity) {
        Optional<String> text = map.text(key);
        if (text.isEmpty()) {
            return OptionalDouble.empty();
        }
        OptionalDouble number = number(text.get());
        if (number.isEmpty()) {
            map.fault(key, shape(text.get(), UcumUnits.usual(quantity).get(0)));
            return OptionalDouble.empty();
        }
        UnitLookup lookup = UcumUnits.conversion(unit(text.get()), quantity);
        if (lookup instanceof UnitLookup.Refused refused) {
            map.fault(key, refused.message());
        }
        Optional<Conversion> conversion = lookup.known();
        return conversion.isPresent()
                ? OptionalDouble.of(conversion.get().apply(number.getAsDouble()))
                : OptionalDouble.empty();
    }

    /** The value in square metres. */
    public static OptionalDouble readAreaM2(YamlMap map, String key) {
        Optional<String> text = map.text(key);
        if (text.isEmpty()) {
            return OptionalDouble.empty();
        }
        OptionalDouble number = number(text.get());
        Optional<Double> factor = UcumParser.factor(unit(text.get()), "m2");
        if (number.isEmpty() || factor.isEmpty()) {
            map.fault(key, shape(text.get(), "m2"));
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(number.getAsDouble() * factor.get());
    }

    private static String shape(String text, String example) {
        return "'" + text + "' is not a number, a space and a UCUM unit such as '" + example + "'";
    }

    private static OptionalDouble number(String text) {
        return YamlMap.parseNumber(text.substring(0, Math.max(0, text.indexOf(' '))));
    }

    private static String unit(String text) {
        return text.substring(text.indexOf(' ') + 1).strip();
    }
}
