package io.loopwarden.store;

import java.util.OptionalDouble;

/** Sums up minutes of a figure, or hours of it, into one bucket. */
final class FigureSum {

    int values;
    int gaps;
    double min = Double.POSITIVE_INFINITY;
    double max = Double.NEGATIVE_INFINITY;
    private double sum;
    private double uncertaintySum;
    int reason;
    private long reasonNs = Long.MIN_VALUE;

    void minute(long ns, Float value, Float uncertainty, int reasonCode) {
        if (value == null) {
            gap(ns, 1, reasonCode);
        } else {
            hour(1, value, value, value, uncertainty);
        }
    }

    void gap(long ns, int minutes, int reasonCode) {
        gaps += minutes;
        if (minutes > 0 && ns >= reasonNs) {
            reason = reasonCode;
            reasonNs = ns;
        }
    }

    void hour(int minutes, double least, double most, double mean, double uncertainty) {
        values += minutes;
        min = Math.min(min, least);
        max = Math.max(max, most);
        sum += mean * minutes;
        uncertaintySum += uncertainty * minutes;
    }

    double mean() {
        return sum / values;
    }

    double uncertainty() {
        return uncertaintySum / values;
    }

    FigureBucket at(long startNs) {
        return new FigureBucket(
                Times.instant(startNs),
                values,
                gaps,
                some(min),
                some(max),
                some(values == 0 ? 0 : mean()),
                some(values == 0 ? 0 : uncertainty()),
                ReasonCode.reason(reason));
    }

    private OptionalDouble some(double value) {
        return values == 0 ? OptionalDouble.empty() : OptionalDouble.of(value);
    }
}
