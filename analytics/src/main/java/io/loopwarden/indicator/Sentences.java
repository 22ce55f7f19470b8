package io.loopwarden.indicator;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Figures as sentences for people. What stands behind ± is the 95 % interval. */
public final class Sentences {

    private Sentences() {}

    /** One sentence for one result; the reason where there is no figure. */
    public static String of(IndicatorResult result, Design design) {
        return result.value().fold(value -> of(result, value, design), gap -> gap.detail());
    }

    private static String of(IndicatorResult result, Estimate e, Design design) {
        if (result.function() == UnitFunction.CONTAINMENT) {
            return ContainmentSentences.of(result, e);
        }
        if (result.function() != UnitFunction.HEAT_TRANSFER && result.function() != UnitFunction.INSTRUMENTS) {
            return HydraulicSentences.of(result, e, design);
        }
        String key = result.key();
        String unit = result.unit();
        Nameplate n = design.nameplate();
        double band = Estimate.K95 * e.standardUncertainty();
        return switch (key) {
            case "approach" -> "The approach is " + kelvin(e) + "; at rated duty " + promised(n) + " is promised.";
            case "tcs-duty" -> "The racks give off " + Words.watts(e.value(), band) + ".";
            case "fws-duty" -> "Facility water takes up " + Words.watts(e.value(), band) + ".";
            case "duty" ->
                "The unit moves " + Words.watts(e.value(), band) + ", " + Words.percent(e.value() / n.ratedDutyW(), 0)
                        + " of rated duty.";
            case "heat-balance-closure" -> closure(e, design.settings());
            case "ua" ->
                "UA is " + Words.fixed(e.value() / 1e3, 0) + " ± " + Words.fixed(band / 1e3, 0)
                        + " kW/K at the flows of today.";
            case "approach-at-rated-duty" ->
                "Could " + (e.value() <= n.ratedApproachK() ? "still " : "")
                        + "carry " + Words.watts(n.ratedDutyW()) + " at " + kelvin(e) + "; it promised " + promised(n)
                        + ".";
            case "duty-at-rated-approach" ->
                "At " + promised(n) + " approach it could carry " + Words.watts(e.value(), band) + ", rated are "
                        + Words.watts(n.ratedDutyW()) + ".";
            case "heat-transfer-reserve" ->
                "Could carry " + Words.fixed(100 * e.value(), 0) + " ± " + Words.percent(band, 0)
                        + " of rated duty at rated approach.";
            case "approach-at-design-temperature" ->
                "With facility water at " + Words.fixed(n.designFwsSupplyTemperatureC(), 1) + " °C it would carry "
                        + Words.watts(n.ratedDutyW()) + " at " + kelvin(e) + ".";
            case "sensor-agreement" ->
                "Sensors as good as stated disagree as much as these in " + Words.percent(e.value(), 1) + " of cases"
                        + (result.subject().isEmpty() ? "." : "; " + result.subject() + " stands out.");
            case "cleaning-recovered" ->
                "The " + result.subject() + " brought back " + Words.fixed(100 * e.value(), 0) + " ± "
                        + Words.percent(band, 0) + " of the UA that was lost.";
            case "exchanger-tcs-dp-growth", "exchanger-fws-dp-growth" ->
                "Differential pressure of the " + result.subject() + " at equal flow has grown by "
                        + Words.fixed(100 * e.value(), 1) + " ± " + Words.percent(band, 1) + " since the baseline.";
            case "fouling-pumping-energy" ->
                "Deposits cost " + Words.fixed(e.value(), 0) + " ± " + Words.fixed(band, 0)
                        + " kWh a week of facility pumping.";
            case "fouling-lost-free-cooling" ->
                "Deposits cost " + Words.fixed(e.value(), 1) + " ± " + Words.fixed(band, 1)
                        + " h of free cooling a week.";
            case "cleaning-interval" ->
                "At the present growth it costs least to clean every " + Words.fixed(e.value(), 0) + " ± "
                        + Words.fixed(band, 0) + " days.";
            case "fouling-resistance" ->
                "Deposits have added " + Words.fixed(1e9 * e.value(), 0) + " ± " + Words.fixed(1e9 * band, 0)
                        + " K/GW since the baseline"
                        + (result.subject().isEmpty() ? "." : ", likely on the " + result.subject() + ".");
            case "cleanliness" ->
                "UA is " + Words.fixed(100 * e.value(), 1) + " ± " + Words.percent(band, 1)
                        + " of the baseline's at the same flows.";
            case "days-to-limit" ->
                "At the present growth of deposits " + promised(n) + " at " + Words.watts(n.ratedDutyW())
                        + " holds for " + Words.fixed(e.value(), 0) + " ± " + Words.fixed(band, 0) + " days more.";
            default -> key + " is " + e.value() + " ± " + band + " " + unit + ".";
        };
    }

    /**
     * What the controller hides: it holds the approach by the facility valve, so the approach alone says nothing.
     *
     * @param approach K, now
     * @param valve position 0 to 1, now
     * @param atRatedDuty {@code approach-at-rated-duty}
     */
    public static String behindTheApproach(
            Computed<Estimate> approach,
            Computed<Estimate> valve,
            Computed<Estimate> atRatedDuty,
            Nameplate nameplate) {
        return approach.fold(
                a -> valve.fold(
                        v -> held(a, v, atRatedDuty, nameplate),
                        gap -> "The approach reads " + Words.fixed(a.value(), 1)
                                + " K; how far the valve is open to hold it is not known."),
                gap -> "The approach is not known: " + gap.detail());
    }

    private static String held(Estimate approach, Estimate valve, Computed<Estimate> atRatedDuty, Nameplate n) {
        String reads = "The approach reads " + Words.fixed(approach.value(), 1) + " K, held with the valve "
                + Words.percent(Math.max(0, valve.value()), 0) + " open";
        return atRatedDuty.fold(
                at -> reads + "; fully open and at " + Words.watts(n.ratedDutyW()) + " it would be " + kelvin(at) + ", "
                        + promised(n) + " is promised.",
                gap -> reads + "; what it would be at rated duty cannot be said now.");
    }

    static String closure(Estimate closure, IndicatorSettings settings) {
        double allowed = settings.closureCoverage() * closure.standardUncertainty();
        String open = Words.percent(Math.abs(closure.value()), 1);
        return Closure.within(closure, settings.closureCoverage())
                ? "The heat balance closes to " + open + " (allowed " + Words.percent(allowed, 1) + ")."
                : "The heat balance is open by " + open + " (allowed " + Words.percent(allowed, 1) + "): the "
                        + (closure.value() > 0 ? "TCS" : "FWS")
                        + " side says more; look for an instrument that is off.";
    }

    private static String kelvin(Estimate e) {
        return Words.fixed(e.value(), 1) + " ± " + Words.fixed(Estimate.K95 * e.standardUncertainty(), 1) + " K";
    }

    private static String promised(Nameplate n) {
        return Words.fixed(n.ratedApproachK(), 1) + " K";
    }
}
