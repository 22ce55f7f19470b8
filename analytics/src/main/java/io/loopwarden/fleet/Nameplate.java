package io.loopwarden.fleet;

import java.util.Objects;
import java.util.OptionalDouble;

/**
 * What the supplier promised of a model, and how it is built.
 *
 * @param ratedDutyW heat moved at rated conditions
 * @param ratedApproachK approach at rated duty and rated flows
 * @param ratedTcsFlowM3PerS TCS flow at rated duty
 * @param ratedFwsFlowM3PerS FWS flow at rated duty, valve fully open
 * @param designFwsDpPa facility differential pressure at which {@code ratedFwsFlowM3PerS} flows, where the supplier tells
 * @param availableHeadPa differential pressure for the racks at rated TCS flow
 * @param designFwsSupplyTemperatureC facility supply temperature the rating holds for
 * @param tcsCoolant what fills the TCS loop; the FWS side carries {@code fwsCoolant}
 * @param pumps installed pumps; {@code pumpsNeeded} of them carry rated flow
 * @param loopVolumeM3 coolant in the unit and its share of the secondary piping
 * @param reservoirVolumeM3 reservoir between level 0 and 1
 * @param filterTerminalDpPa differential pressure at rated flow at which a TCS filter is due
 * @param plateAreaM2 plate area of all exchangers, where the supplier tells
 * @param limits what the supplier says it may be run with
 */
public record Nameplate(
        String supplier,
        String model,
        double ratedDutyW,
        double ratedApproachK,
        double ratedTcsFlowM3PerS,
        double ratedFwsFlowM3PerS,
        OptionalDouble designFwsDpPa,
        double availableHeadPa,
        double designFwsSupplyTemperatureC,
        CoolantSpec tcsCoolant,
        CoolantSpec fwsCoolant,
        int pumps,
        int pumpsNeeded,
        int exchangers,
        int filters,
        double loopVolumeM3,
        double reservoirVolumeM3,
        double filterTerminalDpPa,
        OptionalDouble plateAreaM2,
        SensorClass sensors,
        OperatingLimits limits) {

    public Nameplate {
        Objects.requireNonNull(supplier, "supplier");
        Objects.requireNonNull(model, "model");
        Objects.requireNonNull(tcsCoolant, "tcsCoolant");
        Objects.requireNonNull(fwsCoolant, "fwsCoolant");
        Objects.requireNonNull(designFwsDpPa, "designFwsDpPa");
        Objects.requireNonNull(plateAreaM2, "plateAreaM2");
        Objects.requireNonNull(sensors, "sensors");
        Objects.requireNonNull(limits, "limits");
        requirePositive("rated duty (W)", ratedDutyW);
        requirePositive("rated approach (K)", ratedApproachK);
        requirePositive("rated TCS flow (m3/s)", ratedTcsFlowM3PerS);
        requirePositive("rated FWS flow (m3/s)", ratedFwsFlowM3PerS);
        designFwsDpPa.ifPresent(dp -> requirePositive("design FWS differential pressure (Pa)", dp));
        requirePositive("available head (Pa)", availableHeadPa);
        requirePositive("loop volume (m3)", loopVolumeM3);
        requirePositive("reservoir volume (m3)", reservoirVolumeM3);
        requirePositive("filter terminal differential pressure (Pa)", filterTerminalDpPa);
        if (!(designFwsSupplyTemperatureC >= 2 && designFwsSupplyTemperatureC <= 60)) {
            throw new IllegalArgumentException(
                    "design FWS supply temperature is " + designFwsSupplyTemperatureC + " °C, must be 2 to 60");
        }
        requireCount("pumps", pumps, 1, 8);
        requireCount("pumps needed", pumpsNeeded, 1, pumps);
        requireCount("exchangers", exchangers, 1, 16);
        requireCount("filters", filters, 0, 16);
        plateAreaM2.ifPresent(area -> requirePositive("plate area (m2)", area));
    }

    /** A nameplate that says nothing of how the unit may be run. */
    public Nameplate(
            String supplier,
            String model,
            double ratedDutyW,
            double ratedApproachK,
            double ratedTcsFlowM3PerS,
            double ratedFwsFlowM3PerS,
            OptionalDouble designFwsDpPa,
            double availableHeadPa,
            double designFwsSupplyTemperatureC,
            CoolantSpec tcsCoolant,
            CoolantSpec fwsCoolant,
            int pumps,
            int pumpsNeeded,
            int exchangers,
            int filters,
            double loopVolumeM3,
            double reservoirVolumeM3,
            double filterTerminalDpPa,
            OptionalDouble plateAreaM2,
            SensorClass sensors) {
        this(
                supplier,
                model,
                ratedDutyW,
                ratedApproachK,
                ratedTcsFlowM3PerS,
                ratedFwsFlowM3PerS,
                designFwsDpPa,
                availableHeadPa,
                designFwsSupplyTemperatureC,
                tcsCoolant,
                fwsCoolant,
                pumps,
                pumpsNeeded,
                exchangers,
                filters,
                loopVolumeM3,
                reservoirVolumeM3,
                filterTerminalDpPa,
                plateAreaM2,
                sensors,
                OperatingLimits.NONE);
    }

    private static void requirePositive(String name, double value) {
        if (!(value > 0) || Double.isInfinite(value)) {
            throw new IllegalArgumentException(name + " is " + value + ", must be finite and > 0");
        }
    }

    private static void requireCount(String name, int value, int least, int most) {
        if (value < least || value > most) {
            throw new IllegalArgumentException(name + " is " + value + ", must be " + least + " to " + most);
        }
    }
}
