package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import org.hipparchus.distribution.continuous.TDistribution;

/**
 * When a growing quantity will reach a limit, in the unit of x, counted from x = 0.
 *
 * <p>The line is Theil and Sen's; growth towards an asymptote from zero at x = 0 (Kern and Seaton 1959) takes its place
 * where Akaike's criterion clearly prefers it and its rate is known. The intervals come from refits to resampled blocks
 * of residuals, since residuals of neighbouring days are alike.
 *
 * @param preferred the form that was used
 * @param linearAic Akaike's criterion of the least squares line, n ln(RSS/n) + 2·3
 * @param asymptoticAic the same of the asymptotic fit; empty where there is none
 * @param median of the refits' crossings
 */
public record Crossing(
        Form preferred,
        double linearAic,
        OptionalDouble asymptoticAic,
        Bound median,
        Bound lower80,
        Bound upper80,
        Bound lower95,
        Bound upper95) {

    public enum Form {
        LINEAR,
        ASYMPTOTIC
    }

    /** One end of an interval: an x, or empty where growth this slow never gets there within the horizon. */
    public record Bound(OptionalDouble x) {

        private static Bound of(double x, double horizon) {
            return new Bound(x <= horizon ? OptionalDouble.of(x) : OptionalDouble.empty());
        }

        private Bound from(double origin) {
            return x.isPresent() ? new Bound(OptionalDouble.of(x.getAsDouble() - origin)) : this;
        }
    }

    /** The same, counted from another x. */
    public Crossing from(double origin) {
        return new Crossing(
                preferred,
                linearAic,
                asymptoticAic,
                median.from(origin),
                lower80.from(origin),
                upper80.from(origin),
                lower95.from(origin),
                upper95.from(origin));
    }

    /**
     * How the question is asked.
     *
     * @param limit value to be reached
     * @param horizon largest x that still is an answer
     * @param sharedStandardUncertainty error that all values have in common, for example of the clean baseline
     * @param seed of the resampling; the same seed gives the same answer
     * @param sharedErrors further errors that the values share, each as one standard deviation of it at every x: errors of a
     *     model that grow with what it measures bend or tilt the whole series
     */
    public record Question(
            double limit, double horizon, double sharedStandardUncertainty, long seed, List<double[]> sharedErrors) {

        public Question(double limit, double horizon, double sharedStandardUncertainty, long seed) {
            this(limit, horizon, sharedStandardUncertainty, seed, List.of());
        }

        public Question {
            sharedErrors = sharedErrors.stream().map(double[]::clone).toList();
            if (!Double.isFinite(limit) || !(horizon > 0) || !(sharedStandardUncertainty >= 0)) {
                throw new IllegalArgumentException("limit " + limit + ", horizon " + horizon
                        + ", shared standard uncertainty " + sharedStandardUncertainty);
            }
        }
    }

    private static final int LEAST_POINTS = 7;
    private static final int REFITS = 400;
    private static final double CLEAR_AIC_DIFFERENCE = 4;
    private static final double MOST_RATE_UNCERTAINTY_RATIO = 0.3;

    /** Of neighbouring residuals; beyond it a trend cannot be told from wandering. */
    private static final double MOST_LIKENESS = 0.8;

    /** Points beyond which the refits use every second, third … point of a longer series. */
    private static final int MOST_POINTS_PER_REFIT = 120;

    public static Computed<Crossing> forecast(double[] x, double[] y, Question question) {
        Series.requirePaired(x, y);
        if (x.length < LEAST_POINTS) {
            return Computed.unavailable(
                    Reason.INPUT_MISSING, "a forecast needs " + LEAST_POINTS + " points, got " + x.length);
        }
        for (double[] error : question.sharedErrors) {
            Series.requirePaired(x, error);
        }
        double[] px = Series.thinned(x, MOST_POINTS_PER_REFIT);
        double[] py = Series.thinned(y, MOST_POINTS_PER_REFIT);
        return LineFit.of(px, py)
                .flatMap(line -> TheilSen.of(px, py, 0.95).map(robust -> {
                    double linearAic = aic(line.residualSumOfSquares(), px.length);
                    Computed<ExponentialRise> rise = ExponentialRise.of(px, py);
                    return rise.<Crossing>fold(
                            r -> {
                                double riseAic = aic(r.residualSumOfSquares(), px.length);
                                boolean known = r.rate().standardUncertainty()
                                        <= MOST_RATE_UNCERTAINTY_RATIO
                                                * r.rate().value();
                                return known && linearAic - riseAic > CLEAR_AIC_DIFFERENCE
                                        ? asymptotic(px, py, r, question, linearAic, riseAic)
                                        : linear(px, py, robust, question, linearAic, OptionalDouble.of(riseAic));
                            },
                            gap -> linear(px, py, robust, question, linearAic, OptionalDouble.empty()));
                }));
    }

    private static Crossing linear(
            double[] x, double[] y, TheilSen fit, Question q, double aic, OptionalDouble otherAic) {
        double[] crossings = refits(
                x,
                y,
                fit::at,
                2,
                q,
                (sample, shift) -> TheilSen.of(x, sample, 0.95)
                        .<Double>fold(
                                f -> lineCrossing(f, x[x.length - 1], q.limit() - shift),
                                gap -> Double.POSITIVE_INFINITY));
        return of(Form.LINEAR, aic, otherAic, crossings, q.horizon());
    }

    private static Crossing asymptotic(
            double[] x, double[] y, ExponentialRise fit, Question q, double linearAic, double aic) {
        double[] crossings = refits(
                x,
                y,
                fit::at,
                2,
                q,
                (sample, shift) -> ExponentialRise.from(
                                x, sample, fit.amplitude().value(), fit.rate().value())
                        .<Double>fold(
                                f -> f.xAt(q.limit() - shift).orElse(Double.POSITIVE_INFINITY),
                                gap -> Double.POSITIVE_INFINITY));
        return of(Form.ASYMPTOTIC, linearAic, OptionalDouble.of(aic), crossings, q.horizon());
    }

    /** A line that is already over the limit crossed it at the latest now; one that falls never will. */
    private static double lineCrossing(TheilSen line, double now, double limit) {
        if (line.slope() > 0) {
            return (limit - line.intercept()) / line.slope();
        }
        return line.at(now) >= limit ? now : Double.POSITIVE_INFINITY;
    }

    @FunctionalInterface
    private interface Refit {
        double crossing(double[] sample, double shift);
    }

    /** Moving block bootstrap (Künsch 1989) of the residuals. */
    private static double[] refits(
            double[] x, double[] y, ToDoubleFunction<Double> fit, int parameters, Question q, Refit refit) {
        int n = x.length;
        double[] residuals = new double[n];
        for (int i = 0; i < n; i++) {
            residuals[i] = y[i] - fit.applyAsDouble(x[i]);
        }
        int block = Math.max(2, (int) Math.round(Math.cbrt(n)));
        double widening = widening(residuals, parameters, block);
        for (int i = 0; i < n; i++) {
            residuals[i] *= widening;
        }
        Random random = new Random(q.seed());
        double[] crossings = new double[REFITS];
        double[] sample = new double[n];
        List<double[]> shared = q.sharedErrors().stream()
                .map(e -> Series.thinned(e, MOST_POINTS_PER_REFIT))
                .toList();
        for (int b = 0; b < REFITS; b++) {
            for (int start = 0; start < n; start += block) {
                int from = random.nextInt(n - block + 1);
                for (int i = 0; i < block && start + i < n; i++) {
                    sample[start + i] = fit.applyAsDouble(x[start + i]) + residuals[from + i];
                }
            }
            for (double[] error : shared) {
                double deviations = random.nextGaussian();
                for (int i = 0; i < n; i++) {
                    sample[i] += deviations * error[i];
                }
            }
            crossings[b] = refit.crossing(sample, q.sharedStandardUncertainty() * random.nextGaussian());
        }
        return crossings;
    }

    /**
     * What the residuals of a short series lack: the parameters that the fit has used up, and the likeness of neighbours
     * that blocks cut off, taken as that of a first order process (its correlation corrected for bias, Kendall 1954),
     * and Student's allowance for having estimated the scatter from few independent values.
     */
    private static double widening(double[] residuals, int parameters, int block) {
        int n = residuals.length;
        double lagged = 0;
        double square = 0;
        for (int i = 0; i < n; i++) {
            square += residuals[i] * residuals[i];
            lagged += i > 0 ? residuals[i] * residuals[i - 1] : 0;
        }
        double raw = square > 0 ? lagged / square : 0;
        double likeness = Math.min(MOST_LIKENESS, Math.max(0, raw + (2 + 4 * raw) / n));
        double longRun = (1 + likeness) / (1 - likeness);
        double inBlocks = 1;
        for (int k = 1; k < block; k++) {
            inBlocks += 2 * (1 - (double) k / block) * Math.pow(likeness, k);
        }
        double freedom = Math.max(2, n / longRun - parameters);
        double student = new TDistribution(freedom).inverseCumulativeProbability(0.975) / Estimate.K95;
        return student * Math.sqrt(n / freedom / inBlocks);
    }

    private static Crossing of(
            Form form, double linearAic, OptionalDouble asymptoticAic, double[] crossings, double horizon) {
        Arrays.sort(crossings);
        return new Crossing(
                form,
                linearAic,
                asymptoticAic,
                quantile(crossings, 0.5, horizon),
                quantile(crossings, 0.1, horizon),
                quantile(crossings, 0.9, horizon),
                quantile(crossings, 0.025, horizon),
                quantile(crossings, 0.975, horizon));
    }

    /** Order statistic without interpolation: between a date and never there is nothing. */
    private static Bound quantile(double[] sorted, double probability, double horizon) {
        int index = (int) Math.min(sorted.length - 1L, Math.floor(probability * sorted.length));
        return Bound.of(sorted[index], horizon);
    }

    private static double aic(double residualSumOfSquares, int n) {
        return n * Math.log(residualSumOfSquares / n) + 2 * 3;
    }
}
