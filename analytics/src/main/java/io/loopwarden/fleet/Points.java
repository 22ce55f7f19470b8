package io.loopwarden.fleet;

import static io.loopwarden.fleet.Quantity.CONDUCTIVITY;
import static io.loopwarden.fleet.Quantity.COUNT;
import static io.loopwarden.fleet.Quantity.DIFFERENTIAL_PRESSURE;
import static io.loopwarden.fleet.Quantity.DURATION;
import static io.loopwarden.fleet.Quantity.FLAG;
import static io.loopwarden.fleet.Quantity.GAUGE_PRESSURE;
import static io.loopwarden.fleet.Quantity.PH;
import static io.loopwarden.fleet.Quantity.POWER;
import static io.loopwarden.fleet.Quantity.RATIO;
import static io.loopwarden.fleet.Quantity.TEMPERATURE;
import static io.loopwarden.fleet.Quantity.TEMPERATURE_DIFFERENCE;
import static io.loopwarden.fleet.Quantity.VOLUME;
import static io.loopwarden.fleet.Quantity.VOLUME_FLOW;

import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * The vocabulary of points. FWS is the facility water system (cold side), TCS the technology cooling system (rack side), the
 * terms of ASHRAE TC 9.9. {@code {n}} stands for the number of a pump, exchanger or filter, from 1.
 */
public final class Points {

    public static final PointName TCS_SUPPLY_TEMPERATURE;
    public static final PointName TCS_RETURN_TEMPERATURE;
    public static final PointName FWS_SUPPLY_TEMPERATURE;
    public static final PointName FWS_RETURN_TEMPERATURE;
    public static final PointName TCS_FLOW;
    public static final PointName FWS_FLOW;
    public static final PointName TCS_DP;
    public static final PointName TCS_DP_SETPOINT;
    public static final PointName APPROACH_SETPOINT;
    public static final PointName TCS_SUPPLY_PRESSURE;
    public static final PointName TCS_RETURN_PRESSURE;
    public static final PointName FWS_DP;
    public static final PointName FWS_VALVE_POSITION;
    public static final PointName FWS_STRAINER_DP;
    public static final PointName RESERVOIR_LEVEL;
    public static final PointName TRAY_WET;
    public static final PointName TCS_RETURN_FLOW;
    public static final PointName TCS_SUPPLY_TEMPERATURE_REDUNDANT;
    public static final PointName TCS_RETURN_TEMPERATURE_REDUNDANT;
    public static final PointName FWS_VALVE_COMMAND;
    public static final PointName COOLANT_CONDUCTIVITY;
    public static final PointName COOLANT_PH;
    public static final PointName COOLANT_CONCENTRATION;

    private static final Map<String, Quantity> VOCABULARY = new LinkedHashMap<>();

    static {
        VOCABULARY.put("tcs.supply.temperature", TEMPERATURE);
        VOCABULARY.put("tcs.return.temperature", TEMPERATURE);
        VOCABULARY.put("tcs.supply.temperature.redundant", TEMPERATURE);
        VOCABULARY.put("tcs.return.temperature.redundant", TEMPERATURE);
        VOCABULARY.put("tcs.flow", VOLUME_FLOW);
        VOCABULARY.put("tcs.return.flow", VOLUME_FLOW);
        VOCABULARY.put("tcs.dp", DIFFERENTIAL_PRESSURE);
        VOCABULARY.put("tcs.dp.setpoint", DIFFERENTIAL_PRESSURE);
        VOCABULARY.put("tcs.supply.pressure", GAUGE_PRESSURE);
        VOCABULARY.put("tcs.return.pressure", GAUGE_PRESSURE);
        VOCABULARY.put("tcs.filter.{n}.dp", DIFFERENTIAL_PRESSURE);
        VOCABULARY.put("fws.supply.temperature", TEMPERATURE);
        VOCABULARY.put("fws.return.temperature", TEMPERATURE);
        VOCABULARY.put("fws.flow", VOLUME_FLOW);
        VOCABULARY.put("fws.dp", DIFFERENTIAL_PRESSURE);
        VOCABULARY.put("fws.supply.pressure", GAUGE_PRESSURE);
        VOCABULARY.put("fws.strainer.dp", DIFFERENTIAL_PRESSURE);
        VOCABULARY.put("fws.valve.position", RATIO);
        VOCABULARY.put("fws.valve.command", RATIO);
        VOCABULARY.put("approach.setpoint", TEMPERATURE_DIFFERENCE);
        VOCABULARY.put("exchanger.{n}.tcs.dp", DIFFERENTIAL_PRESSURE);
        VOCABULARY.put("exchanger.{n}.fws.dp", DIFFERENTIAL_PRESSURE);
        VOCABULARY.put("pump.{n}.running", FLAG);
        VOCABULARY.put("pump.{n}.speed", RATIO);
        VOCABULARY.put("pump.{n}.power", POWER);
        VOCABULARY.put("pump.{n}.dp", DIFFERENTIAL_PRESSURE);
        VOCABULARY.put("pump.{n}.starts", COUNT);
        VOCABULARY.put("pump.{n}.run-time", DURATION);
        VOCABULARY.put("reservoir.level", RATIO);
        VOCABULARY.put("makeup.running", FLAG);
        VOCABULARY.put("makeup.volume", VOLUME);
        VOCABULARY.put("tray.wet", FLAG);
        VOCABULARY.put("rope.wet", FLAG);
        VOCABULARY.put("coolant.conductivity", CONDUCTIVITY);
        VOCABULARY.put("coolant.ph", PH);
        VOCABULARY.put("coolant.concentration", RATIO);
        VOCABULARY.put("controller.heartbeat", COUNT);

        TCS_SUPPLY_TEMPERATURE = PointName.of("tcs.supply.temperature");
        TCS_RETURN_TEMPERATURE = PointName.of("tcs.return.temperature");
        FWS_SUPPLY_TEMPERATURE = PointName.of("fws.supply.temperature");
        FWS_RETURN_TEMPERATURE = PointName.of("fws.return.temperature");
        TCS_FLOW = PointName.of("tcs.flow");
        FWS_FLOW = PointName.of("fws.flow");
        TCS_DP = PointName.of("tcs.dp");
        TCS_DP_SETPOINT = PointName.of("tcs.dp.setpoint");
        APPROACH_SETPOINT = PointName.of("approach.setpoint");
        TCS_SUPPLY_PRESSURE = PointName.of("tcs.supply.pressure");
        TCS_RETURN_PRESSURE = PointName.of("tcs.return.pressure");
        FWS_DP = PointName.of("fws.dp");
        FWS_VALVE_POSITION = PointName.of("fws.valve.position");
        FWS_STRAINER_DP = PointName.of("fws.strainer.dp");
        RESERVOIR_LEVEL = PointName.of("reservoir.level");
        TRAY_WET = PointName.of("tray.wet");
        TCS_RETURN_FLOW = PointName.of("tcs.return.flow");
        TCS_SUPPLY_TEMPERATURE_REDUNDANT = PointName.of("tcs.supply.temperature.redundant");
        TCS_RETURN_TEMPERATURE_REDUNDANT = PointName.of("tcs.return.temperature.redundant");
        FWS_VALVE_COMMAND = PointName.of("fws.valve.command");
        COOLANT_CONDUCTIVITY = PointName.of("coolant.conductivity");
        COOLANT_PH = PointName.of("coolant.ph");
        COOLANT_CONCENTRATION = PointName.of("coolant.concentration");
    }

    private Points() {}

    /** Every name of the vocabulary with the kind of its quantity, in order; {@code {n}} left as it is. */
    public static Map<String, Quantity> vocabulary() {
        return Map.copyOf(VOCABULARY);
    }

    /** The numbered point, for example {@code numbered("pump.{n}.speed", 2)} is {@code pump.2.speed}. */
    public static PointName numbered(String pattern, int number) {
        return PointName.of(pattern.replace("{n}", Integer.toString(number)));
    }

    static Optional<Quantity> quantityOf(String name) {
        return Optional.ofNullable(VOCABULARY.get(name.replaceFirst("\\.[1-9][0-9]?\\.", ".{n}.")));
    }

    static String nearest(String name) {
        // The work grows with the length, and the name may be anything.
        String beginning = name.length() <= LONGEST_COMPARED ? name : name.substring(0, LONGEST_COMPARED);
        return VOCABULARY.keySet().stream()
                .min(Comparator.comparingInt(known -> distance(known, beginning)))
                .orElseThrow();
    }

    private static final int LONGEST_COMPARED = 64;

    /** Levenshtein's edit distance. */
    private static int distance(String a, String b) {
        int[] previous = new int[b.length() + 1];
        int[] row = new int[b.length() + 1];
        for (int j = 0; j <= b.length(); j++) {
            previous[j] = j;
        }
        for (int i = 1; i <= a.length(); i++) {
            row[0] = i;
            for (int j = 1; j <= b.length(); j++) {
                int substitute = previous[j - 1] + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
                row[j] = Math.min(substitute, Math.min(previous[j], row[j - 1]) + 1);
            }
            int[] spare = previous;
            previous = row;
            row = spare;
        }
        return previous[b.length()];
    }
}
