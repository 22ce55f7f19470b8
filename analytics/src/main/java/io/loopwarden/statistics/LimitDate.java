package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.DailyTrack.Day;
import java.util.List;

/**
 * When a growing daily figure reaches a limit: along a straight line, or along an exponential where the residuals clearly prefer it.
 * Cheap enough for every part of every unit; the slope is Theil and Sen's, its error that of least squares, widened for the likeness of
 * neighbouring days.
 *
 * @param days from now on, not negative
 * @param exponential growth in proportion to what is there
 */
public record LimitDate(Estimate days, boolean exponential) {

    private static final double SECONDS_PER_DAY = 86_400;
    private static final int LEAST_DAYS = 5;

    /** Longer tracks are averaged over two, three … days. */
    private static final int MOST_POINTS = 60;

    private static final double HORIZON_DAYS = 730;

    /** Of Akaike's criterion. */
    private static final double CLEAR_DIFFERENCE = 4;

    /** Below this many standard errors of the slope nothing grows. */
    private static final double LEAST_SIGNIFICANCE = 3;

    private static final double MOST_LIKENESS = 0.8;

    /** @param shared error that the limit has against all days */
    public static Computed<LimitDate> of(List<Day> days, double limit, double shared, double nowEpochS) {
        if (days.size() < LEAST_DAYS) {
            return Computed.unavailable(
                    Reason.BASELINE_MISSING,
                    "A date takes " + LEAST_DAYS + " whole days; there are " + days.size() + ".");
        }
        int together = (days.size() + MOST_POINTS - 1) / MOST_POINTS;
        int points = days.size() / together;
        int first = days.size() - points * together;
        double[] x = new double[points];
        double[] y = new double[points];
        for (int i = 0; i < points * together; i++) {
            Day day = days.get(first + i);
            x[i / together] += (day.meanEpochS() - nowEpochS) / SECONDS_PER_DAY / together;
            y[i / together] += day.mean() / together;
        }
        return of(x, y, limit, shared);
    }

    /** @param x days, 0 is now */
    static Computed<LimitDate> of(double[] x, double[] y, double limit, double shared) {
        double[] logarithms = new double[y.length];
        boolean positive = limit > 0;
        for (int i = 0; i < y.length; i++) {
            positive &= y[i] > 0;
            logarithms[i] = positive ? Math.log(y[i]) : 0;
        }
        boolean mayGrow = positive;
        return LineFit.of(x, y).flatMap(straight -> {
            boolean exponential = mayGrow
                    && LineFit.of(x, logarithms).fold(curve -> clearlyBetter(curve, straight, x, y), gap -> false);
            return exponential
                    ? along(x, logarithms, Math.log(limit), shared / limit, true)
                    : along(x, y, limit, shared, false);
        });
    }

    private static boolean clearlyBetter(LineFit curve, LineFit straight, double[] x, double[] y) {
        double squares = 0;
        for (int i = 0; i < x.length; i++) {
            double residual = y[i] - Math.exp(curve.at(x[i]));
            squares += residual * residual;
        }
        return x.length * Math.log(straight.residualSumOfSquares() / squares) > CLEAR_DIFFERENCE;
    }

    private static Computed<LimitDate> along(double[] x, double[] y, double limit, double shared, boolean exponential) {
        return LineFit.of(x, y)
                .flatMap(line -> TheilSen.of(x, y, 0.95)
                        .flatMap(robust -> date(x, y, line, robust, limit, shared, exponential)));
    }

    private static Computed<LimitDate> date(
            double[] x, double[] y, LineFit line, TheilSen robust, double limit, double shared, boolean exponential) {
        double wide = widening(x, y, line);
        double slopeError = wide * line.slopeSd();
        double now = robust.at(0);
        if (now >= limit) {
            return Computed.of(new LimitDate(new Estimate(0, 0), exponential));
        }
        if (robust.slope() <= LEAST_SIGNIFICANCE * slopeError) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE, "It does not grow by more than its scatter, so no date can be given.");
        }
        double days = (limit - now) / robust.slope();
        if (days > HORIZON_DAYS) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE,
                    "Growth is too slow for a date within " + Math.round(HORIZON_DAYS) + " days.");
        }
        double meanX = Series.mean(x);
        double atLimit = Math.hypot(wide * line.residualSd() / Math.sqrt(x.length), slopeError * (days - meanX));
        double error = Math.hypot(atLimit, shared) / robust.slope();
        return Computed.of(new LimitDate(new Estimate(days, error), exponential));
    }

    /** Root of (1 + r)/(1 − r), r the correlation of neighbouring residuals (Kendall 1954 for its bias). */
    private static double widening(double[] x, double[] y, LineFit line) {
        double lagged = 0;
        double squares = 0;
        double previous = 0;
        for (int i = 0; i < x.length; i++) {
            double residual = y[i] - line.at(x[i]);
            lagged += i > 0 ? residual * previous : 0;
            squares += residual * residual;
            previous = residual;
        }
        double raw = squares > 0 ? lagged / squares : 0;
        double likeness = Math.min(MOST_LIKENESS, Math.max(0, raw + (2 + 4 * raw) / x.length));
        return Math.sqrt((1 + likeness) / (1 - likeness));
    }
}
