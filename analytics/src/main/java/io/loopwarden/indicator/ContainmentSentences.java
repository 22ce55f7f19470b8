package io.loopwarden.indicator;

import io.loopwarden.statistics.Estimate;

/** Figures of the leak suspicion as sentences for people. */
final class ContainmentSentences {

    private static final double LITRES = 1000;
    private static final double LITRES_PER_H = 3.6e6;
    private static final double HOUR_S = 3600;

    private ContainmentSentences() {}

    static String of(IndicatorResult result, Estimate e) {
        double band = Estimate.K95 * e.standardUncertainty();
        return switch (result.key()) {
            case "leak-suspicion" ->
                "A leak is " + percent(e.value()) + " likely"
                        + (result.subject().isEmpty() ? "." : "; likeliest is: " + result.subject() + ".");
            case "unexplained-loss" ->
                "Temperatures, pumps and make-up leave " + rate(e.value()) + " ± " + rate(band) + " unexplained.";
            case "coolant-lost" ->
                Words.fixed(LITRES * e.value(), 1) + " ± " + Words.fixed(LITRES * band, 1)
                        + " L are gone since the loss began.";
            case "time-to-low-level" ->
                "If it goes on, low level trips the pumps in " + span(e.value()) + " ± " + span(band) + ".";
            case "coolant-content" ->
                "The reservoir would hold " + Words.fixed(LITRES * e.value(), 1) + " ± " + Words.fixed(LITRES * band, 1)
                        + " L at 35 °C with the pumps at rest, make-up taken off.";
            default -> "A loss of " + rate(e.value()) + " would be called within a day.";
        };
    }

    private static String percent(double ratio) {
        return ratio < 0.001 ? "less than 0.1 %" : Words.percent(ratio, ratio < 0.1 ? 1 : 0);
    }

    private static String rate(double m3PerS) {
        double litresPerH = LITRES_PER_H * m3PerS;
        return Words.fixed(litresPerH, Math.abs(litresPerH) >= 10 ? 0 : 2) + " L/h";
    }

    private static String span(double seconds) {
        return seconds < 2 * HOUR_S ? Words.fixed(seconds / 60, 0) + " min" : Words.fixed(seconds / HOUR_S, 1) + " h";
    }
}
