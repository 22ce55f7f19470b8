package io.loopwarden.pointmap;

import static java.util.Map.entry;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.pointmap.UnitLookup.Known;
import io.loopwarden.pointmap.UnitLookup.Refused;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** From a UCUM code to the inner unit of a quantity, with the quantity checked: no psi on a flow. */
public final class UcumUnits {

    /** An interval or temperature code: {@code K = scale · value + zeroK}. */
    private record Scale(double kPerUnit, double zeroK, boolean interval) {}

    /** By hand and exact: the parser knows no [degR], and cannot tell a temperature from a difference. */
    private static final Map<String, Scale> TEMPERATURES = Map.of(
            "Cel", new Scale(1, 273.15, false),
            "[degF]", new Scale(5 / 9.0, 459.67 * 5 / 9, false),
            "K", new Scale(1, 0, true),
            "mK", new Scale(0.001, 0, true),
            "[degR]", new Scale(5 / 9.0, 0, true));

    /** Offset to °C, so that no digits are lost by way of 273.15. */
    private static final Map<String, Double> CELSIUS_OFFSETS =
            Map.of("Cel", 0.0, "[degF]", -160 / 9.0, "K", -273.15, "mK", -273.15, "[degR]", -273.15);

    private static final Map<Quantity, List<String>> USUAL = new EnumMap<>(Map.ofEntries(
            entry(Quantity.TEMPERATURE, List.of("Cel", "[degF]", "K")),
            entry(Quantity.TEMPERATURE_DIFFERENCE, List.of("K", "[degR]")),
            entry(Quantity.GAUGE_PRESSURE, List.of("kPa", "bar", "[psi]", "Pa", "mbar", "MPa", "m[H2O]")),
            entry(Quantity.DIFFERENTIAL_PRESSURE, List.of("kPa", "bar", "[psi]", "Pa", "mbar", "[in_i'H2O]", "m[H2O]")),
            entry(Quantity.VOLUME_FLOW, List.of("L/s", "L/min", "m3/h", "[gal_us]/min", "m3/s")),
            entry(Quantity.RATIO, List.of("%", "1")),
            entry(Quantity.POWER, List.of("kW", "W", "[HP]", "MW", "[Btu_IT]/h")),
            entry(Quantity.VOLUME, List.of("L", "m3", "[gal_us]", "mL")),
            entry(Quantity.DURATION, List.of("h", "s", "min", "d", "ms")),
            entry(Quantity.CONDUCTIVITY, List.of("uS/cm", "mS/cm", "S/m")),
            entry(Quantity.PH, List.of("[pH]")),
            entry(Quantity.FLAG, List.of("1")),
            entry(Quantity.COUNT, List.of("1"))));

    private UcumUnits() {}

    /** How to come from {@code code} to the inner unit of {@code quantity}. */
    public static UnitLookup conversion(String code, Quantity quantity) {
        return switch (quantity) {
            case TEMPERATURE, TEMPERATURE_DIFFERENCE -> temperature(code, quantity);
            case PH -> code.equals("[pH]") ? known(1, 0, code) : refuse(code, quantity);
            default ->
                UcumParser.factor(code, quantity.ucum())
                        .map(factor -> known(factor, 0, code))
                        .orElseGet(() -> refuse(code, quantity));
        };
    }

    /** The code that a spelling stands for, where it is one or is commonly used for one of that quantity. */
    public static Optional<String> meant(String spelling, Quantity quantity) {
        return conversion(spelling, quantity) instanceof Known
                ? Optional.of(spelling)
                : UnitSpelling.ucumFor(spelling, quantity);
    }

    /** Whether {@code code} is any unit at all, of whatever quantity. */
    static boolean isUnit(String code) {
        return TEMPERATURES.containsKey(code) || code.equals("[pH]") || UcumParser.isUnit(code);
    }

    /** Codes that are usual for a quantity, most usual first. */
    public static List<String> usual(Quantity quantity) {
        return USUAL.get(quantity);
    }

    static List<String> allUsual() {
        return USUAL.values().stream().flatMap(List::stream).distinct().toList();
    }

    private static UnitLookup known(double factor, double offset, String code) {
        return new Known(new Conversion(factor, offset, code));
    }

    private static UnitLookup temperature(String code, Quantity quantity) {
        Scale scale = TEMPERATURES.get(code);
        if (scale == null) {
            return refuse(code, quantity);
        }
        if (quantity == Quantity.TEMPERATURE) {
            return known(scale.kPerUnit(), CELSIUS_OFFSETS.get(code), code);
        }
        if (!scale.interval()) {
            String interval = code.equals("Cel") ? "K" : "[degR]";
            return new Refused(
                    "'" + code + "' is a temperature with a zero point, a difference needs '" + interval + "'");
        }
        return known(scale.kPerUnit(), 0, code);
    }

    private static UnitLookup refuse(String code, Quantity quantity) {
        if (!isUnit(code)) {
            return new Refused(unknown(code, quantity));
        }
        String measures = kindOf(code).map(kind -> "measures a " + kind).orElse("measures something else");
        String proposal = UnitSpelling.ucumFor(code, quantity)
                .map(meant -> "did you mean '" + meant + "'?")
                .orElse("for example " + quoted(usual(quantity)));
        return new Refused("'" + code + "' " + measures + ", not a " + words(quantity) + ", " + proposal);
    }

    private static String unknown(String code, Quantity quantity) {
        Optional<String> meant = UnitSpelling.ucumFor(code, quantity).or(() -> UnitSpelling.nearest(code, quantity));
        return "'" + code + "' is not a UCUM unit we know, "
                + meant.map(m -> "did you mean '" + m + "'?")
                        .orElse("a " + words(quantity) + " is for example " + quoted(usual(quantity)));
    }

    private static Optional<String> kindOf(String code) {
        if (TEMPERATURES.containsKey(code)) {
            return Optional.of("temperature");
        }
        for (Quantity quantity : Quantity.values()) {
            boolean distinct = quantity != Quantity.TEMPERATURE_DIFFERENCE && quantity != Quantity.PH;
            if (distinct && UcumParser.factor(code, quantity.ucum()).isPresent()) {
                return Optional.of(kind(quantity));
            }
        }
        return UcumParser.factor(code, "Hz").map(any -> "frequency");
    }

    private static String kind(Quantity quantity) {
        return switch (quantity) {
            case GAUGE_PRESSURE, DIFFERENTIAL_PRESSURE -> "pressure";
            case RATIO, FLAG, COUNT -> "plain number";
            default -> words(quantity);
        };
    }

    static String words(Quantity quantity) {
        return quantity == Quantity.PH
                ? "pH"
                : quantity.name().toLowerCase(java.util.Locale.ROOT).replace('_', ' ');
    }

    private static String quoted(List<String> codes) {
        List<String> quoted = new ArrayList<>();
        codes.stream().limit(4).forEach(code -> quoted.add("'" + code + "'"));
        return String.join(", ", quoted);
    }
}
