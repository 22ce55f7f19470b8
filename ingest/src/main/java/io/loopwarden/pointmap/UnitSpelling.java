package io.loopwarden.pointmap;

import static java.util.Map.entry;

import io.loopwarden.fleet.Quantity;
import io.loopwarden.yaml.Nearest;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** Spellings of units that are common on screens and in manuals but are not UCUM: only for proposals, never accepted. */
final class UnitSpelling {

    private static final Map<String, String> COMMON = Map.ofEntries(
            entry("c", "Cel"),
            entry("°c", "Cel"),
            entry("degc", "Cel"),
            entry("celsius", "Cel"),
            entry("f", "[degF]"),
            entry("°f", "[degF]"),
            entry("degf", "[degF]"),
            entry("fahrenheit", "[degF]"),
            entry("kelvin", "K"),
            entry("psi", "[psi]"),
            entry("psid", "[psi]"),
            entry("psig", "[psi]"),
            entry("barg", "bar"),
            entry("kpag", "kPa"),
            entry("inh2o", "[in_i'H2O]"),
            entry("in.wc", "[in_i'H2O]"),
            entry("mh2o", "m[H2O]"),
            entry("gpm", "[gal_us]/min"),
            entry("gal/min", "[gal_us]/min"),
            entry("usgpm", "[gal_us]/min"),
            entry("lpm", "L/min"),
            entry("lps", "L/s"),
            entry("cmh", "m3/h"),
            entry("m3h", "m3/h"),
            entry("m3/hr", "m3/h"),
            entry("m³/h", "m3/h"),
            entry("m³/s", "m3/s"),
            entry("m³", "m3"),
            entry("percent", "%"),
            entry("pct", "%"),
            entry("ratio", "1"),
            entry("hp", "[HP]"),
            entry("btu/h", "[Btu_IT]/h"),
            entry("btuh", "[Btu_IT]/h"),
            entry("gal", "[gal_us]"),
            entry("litre", "L"),
            entry("liter", "L"),
            entry("hr", "h"),
            entry("hrs", "h"),
            entry("hours", "h"),
            entry("sec", "s"),
            entry("µs/cm", "uS/cm"),
            entry("μs/cm", "uS/cm"),
            entry("ph", "[pH]"),
            entry("bool", "1"),
            entry("rpm", "{rev}/min"));

    private UnitSpelling() {}

    /** The UCUM code for a common spelling, if it fits the quantity. */
    static Optional<String> ucumFor(String spelling, Quantity quantity) {
        String meant = COMMON.get(spelling.toLowerCase(Locale.ROOT).replace(" ", ""));
        if (meant == null) {
            return Optional.empty();
        }
        if (quantity == Quantity.TEMPERATURE_DIFFERENCE && !meant.equals("K")) {
            return meant.equals("Cel")
                    ? Optional.of("K")
                    : meant.equals("[degF]") ? Optional.of("[degR]") : Optional.empty();
        }
        return fits(meant, quantity) ? Optional.of(meant) : Optional.empty();
    }

    private static boolean fits(String code, Quantity quantity) {
        boolean temperature = UcumUnits.usual(Quantity.TEMPERATURE).contains(code);
        return switch (quantity) {
            case TEMPERATURE, TEMPERATURE_DIFFERENCE -> temperature;
            case PH -> code.equals("[pH]");
            default -> !temperature && UcumParser.factor(code, quantity.ucum()).isPresent();
        };
    }

    /** The nearest usual code: of that quantity if one is near, else of any. */
    static Optional<String> nearest(String code, Quantity quantity) {
        List<String> bare = new ArrayList<>(UcumUnits.usual(quantity));
        return Nearest.to(code, bare).or(() -> Nearest.to(code, UcumUnits.allUsual()));
    }
}
