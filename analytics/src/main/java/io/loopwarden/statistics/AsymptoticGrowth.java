package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.Random;

/**
 * Growth towards an asymptote, level + rise·(1 − exp(−rate·x)) (Kern and Seaton 1959), from zero at x = 0 or from a level that is
 * fitted as well. For a given rate the rest is linear, so that a refit is a search over a table of rates.
 */
final class AsymptoticGrowth implements Growth {

    private static final int RATES = 60;

    /** Slowest and fastest rate times the span of x: a bend that barely shows, and one that is over at once. */
    private static final double SLOWEST = 0.05;

    private static final double FASTEST = 8;

    private final double[] x;
    private final double limit;
    private final boolean fromLevel;
    private final double[] rates = new double[RATES];
    private final double[][] risen = new double[RATES][];
    private final BlockBootstrap bootstrap;
    private final double criterion;

    private record Fit(double level, double rise, double rate, double residualSumOfSquares) {

        double at(double x) {
            return level - rise * Math.expm1(-rate * x);
        }
    }

    private AsymptoticGrowth(double[] x, double[] y, Crossing.Question question, boolean fromLevel) {
        this.x = x;
        this.limit = question.limit();
        this.fromLevel = fromLevel;
        double span = x[x.length - 1];
        for (int k = 0; k < RATES; k++) {
            rates[k] = SLOWEST * Math.pow(FASTEST / SLOWEST, (double) k / (RATES - 1)) / span;
            risen[k] = new double[x.length];
            for (int i = 0; i < x.length; i++) {
                risen[k][i] = -Math.expm1(-rates[k] * x[i]);
            }
        }
        Fit fit = fit(y);
        int parameters = fromLevel ? 4 : 3;
        double[] fitted = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            fitted[i] = fit.at(x[i]);
        }
        bootstrap = new BlockBootstrap(y, fitted, parameters - 1, question.sharedErrors());
        criterion = Growth.criterion(x.length * Math.log(residualSum(y, fit) / x.length), x.length, parameters);
    }

    static Computed<Growth> fromZero(double[] x, double[] y, Crossing.Question question) {
        return of(x, y, question, false);
    }

    static Computed<Growth> fromLevel(double[] x, double[] y, Crossing.Question question) {
        return of(x, y, question, true);
    }

    private static Computed<Growth> of(double[] x, double[] y, Crossing.Question question, boolean fromLevel) {
        return x[x.length - 1] > 0
                ? Computed.of(new AsymptoticGrowth(x, y, question, fromLevel))
                : Computed.unavailable(Reason.NOT_OBSERVABLE, "no point lies after x = 0");
    }

    @Override
    public double criterion() {
        return criterion;
    }

    /** From zero the least squares fit is the exact one; the table is fine enough for the scatter of refits only. */
    private double residualSum(double[] y, Fit fit) {
        return fromLevel
                ? fit.residualSumOfSquares
                : ExponentialRise.from(x, y, fit.rise, fit.rate)
                        .fold(exact -> exact.residualSumOfSquares(), gap -> fit.residualSumOfSquares);
    }

    @Override
    public double[] crossings(int draws, Random random) {
        double[] crossings = new double[draws];
        double[] sample = new double[x.length];
        for (int b = 0; b < draws; b++) {
            bootstrap.draw(sample, random);
            crossings[b] = crossing(fit(sample));
        }
        return crossings;
    }

    private double crossing(Fit fit) {
        double share = (limit - fit.level) / fit.rise;
        if (fit.rise > 0 && share < 1) {
            return -Math.log1p(-share) / fit.rate;
        }
        double now = x[x.length - 1];
        return fit.at(now) >= limit ? now : Double.POSITIVE_INFINITY;
    }

    private Fit fit(double[] y) {
        Fit best = null;
        for (int k = 0; k < RATES; k++) {
            Fit fit = fit(y, risen[k], rates[k]);
            if (best == null || fit.residualSumOfSquares < best.residualSumOfSquares) {
                best = fit;
            }
        }
        return best;
    }

    private Fit fit(double[] y, double[] r, double rate) {
        int n = y.length;
        double meanR = 0;
        double meanY = 0;
        if (fromLevel) {
            meanR = Series.mean(r);
            meanY = Series.mean(y);
        }
        double rr = 0;
        double ry = 0;
        double yy = 0;
        for (int i = 0; i < n; i++) {
            double dr = r[i] - meanR;
            double dy = y[i] - meanY;
            rr += dr * dr;
            ry += dr * dy;
            yy += dy * dy;
        }
        double rise = ry / rr;
        return new Fit(meanY - rise * meanR, rise, rate, Math.max(0, yy - rise * ry));
    }
}
