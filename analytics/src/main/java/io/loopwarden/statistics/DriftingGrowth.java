package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.List;
import java.util.Random;

/**
 * Growth whose rate drifts: a local linear trend in state-space form, level and slope, the slope a random walk (Harvey,
 * <i>Forecasting, Structural Time Series Models and the Kalman Filter</i>, 1989, section 2.3.3). Its filter begins with an unknown
 * level and slope, which are estimated along (Rosenberg 1973; de Jong, Annals of Statistics 19, 1991).
 */
final class DriftingGrowth implements Growth {

    /** Level, slope and scatter; the drift is one more where it is not zero. */
    private static final int PARAMETERS = 3;

    /** Drift of the slope over the span of x, variance over that of the scatter; 0 is a straight line. */
    private static final int DRIFTS = 40;

    private static final double LEAST_DRIFT = 1e-3;
    private static final double MOST_DRIFT = 1e4;

    /** A forecast's step over the time since it began. */
    private static final double STEP_RATIO = 0.04;

    private final double[] x;
    private final Crossing.Question question;
    private final double drift;
    private final End end;
    private final double criterion;

    private DriftingGrowth(double[] x, double[] y, Crossing.Question question) {
        this.x = x;
        this.question = question;
        double span = x[x.length - 1] - x[0];
        Filtered best = filter(x, y, 0);
        double bestDrift = 0;
        for (int k = 0; k < DRIFTS; k++) {
            double q =
                    LEAST_DRIFT * Math.pow(MOST_DRIFT / LEAST_DRIFT, (double) k / (DRIFTS - 1)) / (span * span * span);
            Filtered at = filter(x, y, q);
            if (at.minusTwiceLogLikelihood < best.minusTwiceLogLikelihood) {
                best = at;
                bestDrift = q;
            }
        }
        drift = bestDrift;
        end = best.end;
        criterion = Growth.criterion(best.minusTwiceLogLikelihood, x.length, PARAMETERS + (drift > 0 ? 1 : 0));
    }

    static Computed<Growth> of(double[] x, double[] y, Crossing.Question question) {
        return x[x.length - 1] > x[0]
                ? Computed.of(new DriftingGrowth(x, y, question))
                : Computed.unavailable(Reason.NOT_OBSERVABLE, "all points lie at x = " + x[0]);
    }

    /**
     * Level and slope at the last point.
     *
     * @param scatter variance of one point about the level
     * @param levelVariance and the others: over {@code scatter}
     */
    private record End(
            double level,
            double slope,
            double scatter,
            double levelVariance,
            double covariance,
            double slopeVariance) {}

    private record Filtered(double minusTwiceLogLikelihood, End end) {}

    @Override
    public double criterion() {
        return criterion;
    }

    @Override
    public double[] crossings(int draws, Random random) {
        double[] crossings = new double[draws];
        List<End> shared = question.sharedErrors().stream()
                .map(error -> filter(x, error, drift).end)
                .toList();
        double widening = BlockBootstrap.student(Math.max(2, x.length - PARAMETERS - 1));
        double levelSd = widening * Math.sqrt(end.scatter * end.levelVariance);
        double slopePerLevel = end.covariance / end.levelVariance;
        double slopeSd =
                widening * Math.sqrt(end.scatter * Math.max(0, end.slopeVariance - slopePerLevel * end.covariance));
        for (int b = 0; b < draws; b++) {
            double aside = levelSd * random.nextGaussian();
            double level = end.level + aside;
            double slope = end.slope + slopePerLevel * aside + slopeSd * random.nextGaussian();
            for (End error : shared) {
                double deviations = random.nextGaussian();
                level += deviations * error.level;
                slope += deviations * error.slope;
            }
            crossings[b] = x[x.length - 1] + crossing(level, slope, random);
        }
        return crossings;
    }

    /** First passage of one path that goes on from a level and slope. */
    private double crossing(double startLevel, double startSlope, Random random) {
        double limit = question.limit();
        if (startLevel >= limit) {
            return startSlope > 0 ? (limit - startLevel) / startSlope : 0;
        }
        double horizon = question.horizon() - x[x.length - 1];
        if (drift == 0) {
            return startSlope > 0 ? (limit - startLevel) / startSlope : Double.POSITIVE_INFINITY;
        }
        double perStep = end.scatter * drift;
        double level = startLevel;
        double slope = startSlope;
        double at = 0;
        while (at < horizon) {
            double h = 1 + STEP_RATIO * at;
            double turn = Math.sqrt(perStep * h) * random.nextGaussian();
            double next =
                    level + slope * h + h * turn / 2 + Math.sqrt(perStep * h * h * h / 12) * random.nextGaussian();
            if (next >= limit) {
                return at + h * (limit - level) / (next - level);
            }
            level = next;
            slope += turn;
            at += h;
        }
        return Double.POSITIVE_INFINITY;
    }

    /**
     * The Kalman filter, variances over the scatter's: once for the values from a zero start, and along with it for a start of one
     * level and of one slope; least squares over their innovations gives the start.
     *
     * @param q variance that the slope gains per unit of x
     */
    private static Filtered filter(double[] x, double[] y, double q) {
        double[] level = {0, 1, 0};
        double[] slope = {0, 0, 1};
        double pll = 0;
        double pls = 0;
        double pss = 0;
        double s11 = 0;
        double s12 = 0;
        double s22 = 0;
        double c1 = 0;
        double c2 = 0;
        double squares = 0;
        double logs = 0;
        double previous = x[0];
        for (int i = 0; i < x.length; i++) {
            double dt = x[i] - previous;
            previous = x[i];
            for (int k = 0; k < 3; k++) {
                level[k] += dt * slope[k];
            }
            pll += dt * (2 * pls + dt * pss) + q * dt * dt * dt / 3;
            pls += dt * pss + q * dt * dt / 2;
            pss += q * dt;
            double f = pll + 1;
            double gainLevel = pll / f;
            double gainSlope = pls / f;
            double v0 = y[i] - level[0];
            double v1 = -level[1];
            double v2 = -level[2];
            s11 += v1 * v1 / f;
            s12 += v1 * v2 / f;
            s22 += v2 * v2 / f;
            c1 -= v1 * v0 / f;
            c2 -= v2 * v0 / f;
            squares += v0 * v0 / f;
            logs += Math.log(f);
            double[] v = {v0, v1, v2};
            for (int k = 0; k < 3; k++) {
                level[k] += gainLevel * v[k];
                slope[k] += gainSlope * v[k];
            }
            pss -= gainSlope * pls;
            pls -= gainLevel * pls;
            pll -= gainLevel * pll;
        }
        double determinant = s11 * s22 - s12 * s12;
        double b1 = (s22 * c1 - s12 * c2) / determinant;
        double b2 = (s11 * c2 - s12 * c1) / determinant;
        int n = x.length;
        double rss = Math.max(Double.MIN_NORMAL, squares - b1 * c1 - b2 * c2);
        double g11 = s22 / determinant;
        double g12 = -s12 / determinant;
        double g22 = s11 / determinant;
        End end = new End(
                level[0] + b1 * level[1] + b2 * level[2],
                slope[0] + b1 * slope[1] + b2 * slope[2],
                rss / (n - 2),
                pll + quadratic(level, level, g11, g12, g22),
                pls + quadratic(level, slope, g11, g12, g22),
                pss + quadratic(slope, slope, g11, g12, g22));
        return new Filtered(n * Math.log(rss / n) + logs, end);
    }

    private static double quadratic(double[] a, double[] b, double g11, double g12, double g22) {
        return a[1] * (g11 * b[1] + g12 * b[2]) + a[2] * (g12 * b[1] + g22 * b[2]);
    }
}
