package io.loopwarden.inventory;

import io.loopwarden.statistics.Ewma;

/** Conductivity of the coolant, hour by hour, against what it was; support for a leak between the loops. For one thread. */
final class Drift {

    private static final double WEIGHT = 0.1;
    private static final double WIDTH = 3.5;
    private static final int LEARNT_HOURS = 72;
    private static final double LEAST_DEVIATION_RATIO = 0.003;
    private static final double LOG_ODDS = 2.5;

    private final Ewma chart = new Ewma(WEIGHT, WIDTH);
    private double usual;
    private double variance;
    private int hours;
    private double sum;
    private int count;

    void accept(Span span) {
        if (!span.seen() || !(span.mean() > 0)) {
            return;
        }
        sum += span.mean();
        count++;
        if (count == 60) {
            hour(sum / count);
            sum = 0;
            count = 0;
        }
    }

    private void hour(double mean) {
        hours++;
        if (hours <= LEARNT_HOURS) {
            double before = mean - usual;
            usual += before / hours;
            variance += (before * (mean - usual) - variance) / hours;
            return;
        }
        double least = LEAST_DEVIATION_RATIO * usual;
        chart.accept(Math.max(-4, Math.min(4, (mean - usual) / Math.sqrt(Math.max(variance, least * least)))));
    }

    boolean known() {
        return hours > LEARNT_HOURS;
    }

    boolean drifts() {
        return known() && chart.isOutside();
    }

    boolean rises() {
        return chart.mean() > 0;
    }

    double logOdds() {
        return drifts() ? LOG_ODDS : 0;
    }
}
