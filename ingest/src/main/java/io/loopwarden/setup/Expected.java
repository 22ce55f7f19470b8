package io.loopwarden.setup;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.PointName;
import io.loopwarden.pointmap.UcumUnits;
import io.loopwarden.pointmap.UnitLookup;
import java.util.Comparator;
import java.util.OptionalDouble;

/** What a point of a unit with that nameplate shows in ordinary running, roughly: enough to tell units of measure apart. */
final class Expected {

    private Expected() {}

    /** About what the point shows, in its inner unit; empty where anything goes. */
    static OptionalDouble about(PointName point, Nameplate plate) {
        String name = point.value();
        return switch (point.quantity()) {
            case TEMPERATURE -> OptionalDouble.of(plate.designFwsSupplyTemperatureC() + plate.ratedApproachK());
            case TEMPERATURE_DIFFERENCE -> OptionalDouble.of(plate.ratedApproachK());
            case VOLUME_FLOW ->
                OptionalDouble.of(
                        0.8 * (name.startsWith("fws") ? plate.ratedFwsFlowM3PerS() : plate.ratedTcsFlowM3PerS()));
            case DIFFERENTIAL_PRESSURE ->
                OptionalDouble.of(
                        name.contains("filter") || name.contains("strainer")
                                ? 0.5 * plate.filterTerminalDpPa()
                                : name.startsWith("exchanger") ? 50e3 : plate.availableHeadPa());
            case GAUGE_PRESSURE -> OptionalDouble.of(300e3);
            case RATIO -> OptionalDouble.of(0.6);
            case POWER -> OptionalDouble.of(plate.ratedDutyW() / 120);
            case CONDUCTIVITY -> OptionalDouble.of(0.1);
            default -> OptionalDouble.empty();
        };
    }

    /** The usual unit that brings the number closest to what is expected; the most usual one where that says nothing. */
    static String likelyUnit(PointName point, OptionalDouble raw, Nameplate plate) {
        OptionalDouble about = about(point, plate);
        String usual = UcumUnits.usual(point.quantity()).get(0);
        if (about.isEmpty() || raw.isEmpty() || raw.getAsDouble() == 0) {
            return usual;
        }
        return UcumUnits.usual(point.quantity()).stream()
                .min(Comparator.comparingDouble(
                        code -> distance(point, code, Math.abs(raw.getAsDouble()), about.getAsDouble())))
                .orElse(usual);
    }

    /** Of temperatures in kelvin, of everything else as a ratio. */
    private static double distance(PointName point, String code, double raw, double about) {
        UnitLookup.Known known = (UnitLookup.Known) UcumUnits.conversion(code, point.quantity());
        double value = known.conversion().apply(raw);
        return switch (point.quantity()) {
            case TEMPERATURE -> Math.abs(value - about);
            default -> value > 0 ? Math.abs(Math.log(value / about)) : Double.MAX_VALUE;
        };
    }
}
