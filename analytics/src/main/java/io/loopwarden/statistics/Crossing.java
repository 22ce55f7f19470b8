package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Random;

/**
 * When a growing quantity will reach a limit, in the unit of x, counted from x = 0.
 *
 * <p>Growth may be a line (Theil and Sen's), go towards an asymptote (Kern and Seaton 1959) or drift (local linear trend). Where
 * the data cannot tell these apart their dates differ by far more than any of them admits, so the intervals are drawn from all of
 * them in proportion to Akaike's criterion rather than from the best.
 *
 * @param candidates the forms that could be fitted, best first
 * @param median of the draws' crossings
 */
public record Crossing(
        List<Candidate> candidates, Bound median, Bound lower80, Bound upper80, Bound lower95, Bound upper95) {

    public Crossing {
        candidates = List.copyOf(candidates);
    }

    public enum Form {
        LINEAR,
        /** Towards an asymptote, from zero at x = 0. */
        ASYMPTOTIC,
        /** The same from a level that is fitted too, as after a cleaning that was not thorough. */
        ASYMPTOTIC_FROM_LEVEL,
        /** With a rate that wanders. */
        DRIFTING
    }

    /**
     * One form.
     *
     * @param criterion Akaike's, corrected for few points
     * @param weight its share in the draws
     */
    public record Candidate(Form form, double criterion, double weight) {}

    /** The form that the data prefer. */
    public Form preferred() {
        return candidates.get(0).form();
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
                candidates,
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
     * @param seed of the resampling; the same seed gives the same answer
     * @param sharedErrors errors that the values share, each as one standard deviation of it at every x: errors of a model that
     *     grow with what it measures bend or tilt the whole series
     */
    public record Question(double limit, double horizon, long seed, List<double[]> sharedErrors) {

        public Question(double limit, double horizon, long seed) {
            this(limit, horizon, seed, List.of());
        }

        public Question {
            sharedErrors = sharedErrors.stream().map(double[]::clone).toList();
            if (!Double.isFinite(limit) || !(horizon > 0)) {
                throw new IllegalArgumentException("limit " + limit + ", horizon " + horizon);
            }
        }

        private Question with(List<double[]> otherErrors) {
            return new Question(limit, horizon, seed, otherErrors);
        }
    }

    private static final int LEAST_POINTS = 7;
    private static final int DRAWS = 400;

    /** Longer series are thinned to every second, third … point. */
    private static final int MOST_POINTS = 120;

    public static Computed<Crossing> forecast(double[] x, double[] y, Question question) {
        Series.requirePaired(x, y);
        if (x.length < LEAST_POINTS) {
            return Computed.unavailable(
                    Reason.INPUT_MISSING, "a forecast needs " + LEAST_POINTS + " points, got " + x.length);
        }
        for (double[] error : question.sharedErrors) {
            Series.requirePaired(x, error);
        }
        double[] px = Series.thinned(x, MOST_POINTS);
        double[] py = Series.thinned(y, MOST_POINTS);
        Question q = question.with(question.sharedErrors.stream()
                .map(e -> Series.thinned(e, MOST_POINTS))
                .toList());
        Map<Form, Computed<Growth>> forms = new EnumMap<>(Form.class);
        forms.put(Form.LINEAR, LineGrowth.of(px, py, q));
        forms.put(Form.ASYMPTOTIC, AsymptoticGrowth.fromZero(px, py, q));
        forms.put(Form.ASYMPTOTIC_FROM_LEVEL, AsymptoticGrowth.fromLevel(px, py, q));
        forms.put(Form.DRIFTING, DriftingGrowth.of(px, py, q));
        return forms.get(Form.LINEAR).map(line -> averaged(fitted(forms), q));
    }

    private static Map<Form, Growth> fitted(Map<Form, Computed<Growth>> forms) {
        Map<Form, Growth> fitted = new EnumMap<>(Form.class);
        forms.forEach((form, growth) -> growth.map(g -> {
            fitted.put(form, g);
            return g;
        }));
        return fitted;
    }

    /** Each form is drawn from in proportion to its Akaike weight, exp(-criterion/2) (Burnham and Anderson 2002, section 2.9). */
    private static Crossing averaged(Map<Form, Growth> forms, Question q) {
        double least =
                forms.values().stream().mapToDouble(Growth::criterion).min().orElseThrow();
        double sum = forms.values().stream()
                .mapToDouble(g -> Math.exp((least - g.criterion()) / 2))
                .sum();
        List<Candidate> candidates = new ArrayList<>();
        Random random = new Random(q.seed());
        double[] crossings = {};
        for (Map.Entry<Form, Growth> form : forms.entrySet()) {
            double weight = Math.exp((least - form.getValue().criterion()) / 2) / sum;
            candidates.add(new Candidate(form.getKey(), form.getValue().criterion(), weight));
            crossings = joined(crossings, form.getValue().crossings((int) Math.round(DRAWS * weight), random));
        }
        candidates.sort(Comparator.comparingDouble(Candidate::criterion));
        Arrays.sort(crossings);
        return new Crossing(
                candidates,
                quantile(crossings, 0.5, q.horizon()),
                quantile(crossings, 0.1, q.horizon()),
                quantile(crossings, 0.9, q.horizon()),
                quantile(crossings, 0.025, q.horizon()),
                quantile(crossings, 0.975, q.horizon()));
    }

    private static double[] joined(double[] a, double[] b) {
        double[] both = Arrays.copyOf(a, a.length + b.length);
        System.arraycopy(b, 0, both, a.length, b.length);
        return both;
    }

    /** Order statistic without interpolation: between a date and never there is nothing. */
    private static Bound quantile(double[] sorted, double probability, double horizon) {
        int index = (int) Math.min(sorted.length - 1L, Math.floor(probability * sorted.length));
        return Bound.of(sorted[index], horizon);
    }
}
