package io.loopwarden.setup;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.pointmap.UcumUnits;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * Holds a map's live values against what cannot be otherwise in a unit that carries heat: heat flows from warm to cold, both sides
 * carry the same duty, nothing flows backwards.
 */
public final class MapPhysics {

    /** A crossing smaller than this may be the sensors' error. */
    private static final double CLEAR_K = 0.5;

    /** The two duties of a unit in ordinary running, offsets of sensors and coolant included (common practice, no source). */
    private static final double MOST_IMBALANCE = 1.3;

    private static final double MOST_FLOW_RATIO = 2;

    /** Heat capacity over volume of water at 30 °C; that of glycol is up to a tenth lower, within the imbalance allowed. */
    private static final double J_PER_M3K = 4.16e6;

    private final Map<PointName, MapLine> lines = new HashMap<>();
    private final Nameplate plate;
    private final List<Finding> findings = new ArrayList<>();
    private final Set<PointName> blamed = new HashSet<>();

    private MapPhysics(List<MapLine> lines, Nameplate plate) {
        lines.forEach(line -> this.lines.put(line.point(), line));
        this.plate = plate;
    }

    /** What speaks against the map, most telling first; empty where nothing does. */
    public static List<Finding> check(List<MapLine> lines, Nameplate nameplate) {
        MapPhysics physics = new MapPhysics(lines, nameplate);
        physics.units(lines);
        physics.signs(lines);
        physics.swaps();
        physics.balance();
        physics.valve();
        return List.copyOf(physics.findings);
    }

    private OptionalDouble value(PointName point) {
        MapLine line = lines.get(point);
        return line == null || blamed.contains(point) ? OptionalDouble.empty() : line.valueSi();
    }

    private void units(List<MapLine> all) {
        for (MapLine line : all) {
            if (UcumUnits.conversion(line.ucum(), line.point().quantity())
                    .known()
                    .isEmpty()) {
                find("unit", line.point() + " cannot be in " + line.ucum() + ".", List.of(), line);
                continue;
            }
            OptionalDouble value = line.valueSi();
            OptionalDouble about = Expected.about(line.point(), plate);
            if (value.isPresent()
                    && about.isPresent()
                    && !believable(line.point(), value.getAsDouble(), about.getAsDouble())) {
                wrongUnit(line, value.getAsDouble());
            }
        }
    }

    private static boolean believable(PointName point, double value, double about) {
        return switch (point.quantity()) {
            case TEMPERATURE -> value > -5 && value < 85;
            case TEMPERATURE_DIFFERENCE -> Math.abs(value) < 40;
            case RATIO -> Math.abs(value) <= 1.2;
            case VOLUME_FLOW -> Math.abs(value) < MOST_FLOW_RATIO * about;
            case DIFFERENTIAL_PRESSURE -> Math.abs(value) < 12 * about;
            case GAUGE_PRESSURE -> value > -90e3 && value < 2e6;
            default -> true;
        };
    }

    private void wrongUnit(MapLine line, double value) {
        String better = Expected.likelyUnit(line.point(), line.raw(), plate);
        boolean other = !better.equals(line.ucum());
        find(
                "unit",
                String.format(
                        Locale.ROOT,
                        "%s shows %s: not believable for this unit.%s",
                        line.point(),
                        words(value, line.point().quantity()),
                        other
                                ? " In " + better + " it would be " + words(line.withUcum(better), line.point()) + "."
                                : ""),
                other ? List.of(line.withUcum(better)) : List.of(),
                line);
    }

    private void signs(List<MapLine> all) {
        for (MapLine line : all) {
            boolean neverNegative = line.point().quantity() == Quantity.VOLUME_FLOW
                    || line.point().quantity() == Quantity.POWER
                    || line.point().quantity() == Quantity.DIFFERENTIAL_PRESSURE
                    || line.point().equals(Points.APPROACH_SETPOINT);
            OptionalDouble value = value(line.point());
            double small = 0.02 * Expected.about(line.point(), plate).orElse(1);
            if (neverNegative && value.isPresent() && value.getAsDouble() < -small) {
                find(
                        "sign",
                        line.point() + " is negative, "
                                + words(value.getAsDouble(), line.point().quantity())
                                + ": the source counts the other way.",
                        List.of(line.turned()),
                        line);
            }
        }
    }

    private void swaps() {
        swapped(Points.TCS_SUPPLY_TEMPERATURE, Points.TCS_RETURN_TEMPERATURE, "the racks warm the loop");
        swapped(Points.FWS_SUPPLY_TEMPERATURE, Points.FWS_RETURN_TEMPERATURE, "the unit warms the facility water");
        OptionalDouble tcs = value(Points.TCS_SUPPLY_TEMPERATURE);
        OptionalDouble fws = value(Points.FWS_SUPPLY_TEMPERATURE);
        if (tcs.isPresent() && fws.isPresent() && tcs.getAsDouble() < fws.getAsDouble() - CLEAR_K) {
            find(
                    "swapped",
                    String.format(
                            Locale.ROOT,
                            "The loop's supply, %.1f °C, is colder than the facility's, %.1f °C: heat cannot flow that way."
                                    + " The two sides are likely swapped.",
                            tcs.getAsDouble(),
                            fws.getAsDouble()),
                    exchanged(Points.TCS_SUPPLY_TEMPERATURE, Points.FWS_SUPPLY_TEMPERATURE),
                    lines.get(Points.TCS_SUPPLY_TEMPERATURE),
                    lines.get(Points.FWS_SUPPLY_TEMPERATURE));
        }
        OptionalDouble supply = value(PointName.of("tcs.supply.pressure"));
        OptionalDouble back = value(PointName.of("tcs.return.pressure"));
        if (supply.isPresent() && back.isPresent() && supply.getAsDouble() < back.getAsDouble() - 5e3) {
            PointName a = PointName.of("tcs.supply.pressure");
            PointName b = PointName.of("tcs.return.pressure");
            find(
                    "swapped",
                    "The loop's supply pressure is below its return pressure: the pumps push the other way. Supply and return are"
                            + " likely swapped.",
                    exchanged(a, b),
                    lines.get(a),
                    lines.get(b));
        }
    }

    private void swapped(PointName cool, PointName warm, String why) {
        OptionalDouble supply = value(cool);
        OptionalDouble back = value(warm);
        if (supply.isPresent() && back.isPresent() && supply.getAsDouble() > back.getAsDouble() + CLEAR_K) {
            find(
                    "swapped",
                    String.format(
                            Locale.ROOT,
                            "%s shows %.1f °C and %s only %.1f °C, but %s: supply and return are likely swapped.",
                            cool,
                            supply.getAsDouble(),
                            warm,
                            back.getAsDouble(),
                            why),
                    exchanged(cool, warm),
                    lines.get(cool),
                    lines.get(warm));
        }
    }

    private List<MapLine> exchanged(PointName a, PointName b) {
        return List.of(lines.get(a).withPoint(b), lines.get(b).withPoint(a));
    }

    private void balance() {
        OptionalDouble tcs = duty(Points.TCS_FLOW, Points.TCS_RETURN_TEMPERATURE, Points.TCS_SUPPLY_TEMPERATURE);
        OptionalDouble fws = duty(Points.FWS_FLOW, Points.FWS_RETURN_TEMPERATURE, Points.FWS_SUPPLY_TEMPERATURE);
        if (tcs.isEmpty() || fws.isEmpty()) {
            return;
        }
        double ratio = tcs.getAsDouble() / fws.getAsDouble();
        if (ratio < MOST_IMBALANCE && ratio > 1 / MOST_IMBALANCE) {
            return;
        }
        Optional<MapLine> remedy = closing(Points.TCS_FLOW, 1 / ratio).or(() -> closing(Points.FWS_FLOW, ratio));
        find(
                remedy.isPresent() ? "unit" : "doubtful",
                String.format(
                        Locale.ROOT,
                        "The loop would carry %.2f MW and the facility water %.2f MW: both must be the same.%s",
                        tcs.getAsDouble() / 1e6,
                        fws.getAsDouble() / 1e6,
                        remedy.map(line -> " With " + line.point() + " in " + line.ucum() + " they would agree.")
                                .orElse(" A flow, a temperature or their units are wrong.")),
                remedy.stream().toList(),
                lines.get(Points.TCS_FLOW),
                lines.get(Points.FWS_FLOW));
    }

    private OptionalDouble duty(PointName flow, PointName warm, PointName cool) {
        OptionalDouble q = value(flow);
        OptionalDouble hot = value(warm);
        OptionalDouble cold = value(cool);
        boolean known = q.isPresent() && hot.isPresent() && cold.isPresent();
        double duty = known ? q.getAsDouble() * J_PER_M3K * (hot.getAsDouble() - cold.getAsDouble()) : 0;
        return duty > 0.05 * plate.ratedDutyW() / 10 ? OptionalDouble.of(duty) : OptionalDouble.empty();
    }

    /** The flow in another usual unit, if that changes it by just the factor that is missing and it stays believable. */
    private Optional<MapLine> closing(PointName flow, double factor) {
        MapLine line = lines.get(flow);
        double now = line.valueSi().orElseThrow();
        return UcumUnits.usual(Quantity.VOLUME_FLOW).stream()
                .map(line::withUcum)
                .filter(other -> !other.ucum().equals(line.ucum()))
                .filter(other -> {
                    double change = other.valueSi().orElseThrow() / now / factor;
                    return change < 1.2
                            && change > 1 / 1.2
                            && believable(
                                    flow,
                                    other.valueSi().orElseThrow(),
                                    Expected.about(flow, plate).orElseThrow());
                })
                .findFirst();
    }

    /** A position that runs against its command is reported from the other end. */
    private void valve() {
        PointName command = PointName.of("fws.valve.command");
        OptionalDouble position = value(Points.FWS_VALVE_POSITION);
        OptionalDouble asked = value(command);
        if (position.isPresent()
                && asked.isPresent()
                && Math.abs(position.getAsDouble() - asked.getAsDouble()) > 0.1
                && Math.abs(1 - position.getAsDouble() - asked.getAsDouble()) < 0.05) {
            MapLine line = lines.get(Points.FWS_VALVE_POSITION);
            find(
                    "sign",
                    String.format(
                            Locale.ROOT,
                            "The valve stands at %.0f %% and is told %.0f %%: one of them likely counts from closed.",
                            100 * position.getAsDouble(),
                            100 * asked.getAsDouble()),
                    List.of(line.complement()),
                    line,
                    lines.get(command));
        }
    }

    private void find(String kind, String sentence, List<MapLine> remedy, MapLine... concerned) {
        List<String> points = new ArrayList<>();
        for (MapLine line : concerned) {
            points.add(line.point().value());
            blamed.add(line.point());
        }
        findings.add(new Finding(kind, sentence, points, remedy));
    }

    private static String words(MapLine line, PointName point) {
        OptionalDouble value = line.valueSi();
        return value.isPresent() ? words(value.getAsDouble(), point.quantity()) : "nothing";
    }

    private static String words(double valueSi, Quantity quantity) {
        return switch (quantity) {
            case TEMPERATURE -> String.format(Locale.ROOT, "%.1f °C", valueSi);
            case TEMPERATURE_DIFFERENCE -> String.format(Locale.ROOT, "%.1f K", valueSi);
            case VOLUME_FLOW -> String.format(Locale.ROOT, "%.1f L/s", valueSi * 1e3);
            case DIFFERENTIAL_PRESSURE, GAUGE_PRESSURE -> String.format(Locale.ROOT, "%.1f kPa", valueSi / 1e3);
            case RATIO -> String.format(Locale.ROOT, "%.0f %%", 100 * valueSi);
            case POWER -> String.format(Locale.ROOT, "%.1f kW", valueSi / 1e3);
            default -> Double.toString(valueSi);
        };
    }
}
