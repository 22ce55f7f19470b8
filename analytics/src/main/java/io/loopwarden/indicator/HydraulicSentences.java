package io.loopwarden.indicator;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.statistics.Estimate;

/** Figures of filters, pumps and control as sentences for people. What stands behind ± is the 95 % interval. */
final class HydraulicSentences {

    private HydraulicSentences() {}

    static String of(IndicatorResult result, Estimate e, Design design) {
        Nameplate n = design.nameplate();
        double band = Estimate.K95 * e.standardUncertainty();
        String subject = Words.capital(result.subject().isEmpty() ? "it" : result.subject());
        return switch (result.key()) {
            case "filter-dp-at-rated-flow" ->
                subject + " would take " + kilopascals(e) + " at rated flow; it is due at "
                        + Words.kilopascals(n.filterTerminalDpPa()) + ".";
            case "filtration-reserve" -> filtration(result, e);
            case "pump-efficiency" ->
                subject + " turns " + Words.fixed(100 * e.value(), 0) + " ± " + Words.percent(band, 0)
                        + " of its electric power into flow.";
            case "pump-alone-flow" ->
                (n.pumpsNeeded() == 1 ? "One pump" : n.pumpsNeeded() + " pumps") + " at full speed would give "
                        + Words.fixed(1e3 * e.value(), 1) + " ± " + Words.fixed(1e3 * band, 1)
                        + " L/s into the loop as it is; rated are " + Words.litresPerSecond(n.ratedTcsFlowM3PerS())
                        + ".";
            case "internal-loss-at-rated-flow" ->
                "Exchangers, filters and pipes of the unit would take " + kilopascals(e) + " at rated flow.";
            case "rack-resistance" ->
                "The racks resist " + Words.fixed(100 * e.value(), 0) + " ± " + Words.percent(band, 0)
                        + " of what rated flow at the available head stands for.";
            case "pumping-reserve" -> pumping(result, e);
            case "loop-dp-error" -> "The racks get " + beside(e.value() / 1e3, band / 1e3, "kPa", 1);
            case "approach-error" -> "The approach is " + beside(e.value(), band, "K", 1);
            case "control-reserve" -> control(result, e);
            case "filter-loading", "strainer-loading" ->
                subject + " resists " + Words.fixed(e.value(), 2) + " ± " + Words.fixed(band, 2)
                        + " times as much as when it was clean.";
            case "filter-days-to-change", "strainer-days-to-change" ->
                subject + " is due in " + Words.fixed(e.value(), 0) + " ± " + Words.fixed(band, 0) + " days.";
            case "pump-head-loss" ->
                subject + " has lost " + Words.fixed(100 * e.value(), 1) + " ± " + Words.percent(band, 1)
                        + " of its head since commissioning.";
            case "pump-efficiency-change" ->
                "The efficiency of " + result.subject() + " has moved by " + Words.fixed(100 * e.value(), 1) + " ± "
                        + Words.percent(band, 1) + " of what it was.";
            case "rack-resistance-change" ->
                "The racks resist " + Words.fixed(100 * Math.abs(e.value()), 1) + " ± " + Words.percent(band, 1)
                        + (e.value() < 0 ? " less" : " more") + " than they did at the same load.";
            case "coolant-conductivity" -> "The coolant conducts " + Words.fixed(1e4 * e.value(), 0) + " µS/cm.";
            case "coolant-ph" -> "The coolant has pH " + Words.fixed(e.value(), 2) + ".";
            case "coolant-concentration" -> "The coolant holds " + Words.percent(e.value(), 1) + " of glycol by mass.";
            case "reservoir-level" -> "The reservoir is " + Words.percent(e.value(), 0) + " full.";
            case "hunting-amplitude" ->
                "The " + result.subject() + " swings by " + Words.fixed(100 * e.value(), 1) + " % to either side.";
            case "hunting-period" -> "The " + result.subject() + " swings once in " + Words.fixed(e.value(), 0) + " s.";
            case "valve-authority" ->
                "The open facility valve takes " + Words.fixed(100 * e.value(), 0) + " ± " + Words.percent(band, 0)
                        + " of the circuit's differential pressure.";
            default -> result.key() + " is " + e.value() + " ± " + band + " " + result.unit() + ".";
        };
    }

    private static String kilopascals(Estimate e) {
        return Words.fixed(e.value() / 1e3, 1) + " ± " + Words.fixed(Estimate.K95 * e.standardUncertainty() / 1e3, 1)
                + " kPa";
    }

    private static String beside(double value, double band, String unit, int decimals) {
        return Words.fixed(Math.abs(value), decimals) + " ± " + Words.fixed(band, decimals) + " " + unit
                + (value < 0 ? " less" : " more") + " than the set point asks for.";
    }

    static String filtration(IndicatorResult result, Estimate e) {
        return Words.capital(result.subject()) + " takes " + Words.fixed(100 / e.value(), 0) + " ± "
                + Words.percent(Estimate.K95 * e.standardUncertainty() / (e.value() * e.value()), 0)
                + " of its terminal differential pressure, carried to rated flow.";
    }

    static String pumping(IndicatorResult result, Estimate e) {
        String[] parts = result.subject().split(";", 2);
        return Words.capital(parts[0]) + " at full speed could give " + Words.fixed(100 * e.value(), 0) + " ± "
                + Words.percent(Estimate.K95 * e.standardUncertainty(), 0) + " of rated flow at the promised head"
                + (parts.length > 1 ? ";" + parts[1] + "." : ".");
    }

    static String control(IndicatorResult result, Estimate e) {
        String subject = Words.capital(result.subject());
        double band = Estimate.K95 * e.standardUncertainty();
        if (e.value() > 1) {
            return subject + " could give " + Words.fixed(100 * (e.value() - 1), 0) + " ± " + Words.percent(band, 0)
                    + " more flow than now.";
        }
        return e.value() + band < 1
                ? subject + " is at its end and reaches " + Words.fixed(100 * e.value(), 0) + " ± "
                        + Words.percent(band, 0) + " of what its set point asks for."
                : subject + " is at its end; the set point is just held.";
    }
}
