package io.loopwarden.statistics;

import io.loopwarden.statistics.GaussianBelief.Observation;
import java.util.List;

/**
 * A relation that is linear in its parameters, learnt from the first observations of a part and then left alone, so that what comes
 * later can be held against it.
 *
 * @param fromEpochS time of the first observation
 * @param learnt no more is learnt
 */
public record LearntLine(GaussianBelief belief, int count, double fromEpochS, boolean learnt) {

    /**
     * How long is learnt.
     *
     * @param spanS least time from the first to the last observation
     * @param count least number of observations
     */
    public record Span(double spanS, int count) {}

    public static LearntLine begin(double[] means, double[] standardUncertainties) {
        Double[] boxed = new Double[means.length];
        for (int i = 0; i < boxed.length; i++) {
            boxed[i] = means[i];
        }
        return begin(new GaussianBelief(List.of(boxed), Covariance.independent(standardUncertainties)));
    }

    public static LearntLine begin(GaussianBelief prior) {
        return new LearntLine(prior, 0, 0, false);
    }

    /** After one more observation; the same once everything is learnt. */
    public LearntLine with(double epochS, double[] sensitivities, double value, double variance, Span span) {
        if (learnt) {
            return this;
        }
        double from = count == 0 ? epochS : fromEpochS;
        int n = count + 1;
        boolean enough = n >= span.count() && epochS - from >= span.spanS();
        return belief.after(List.of(new Observation(sensitivities, value, variance)))
                .fold(after -> new LearntLine(after, n, from, enough), gap -> this);
    }

    /** Seconds since learning began. */
    public double sinceS(double epochS) {
        return count == 0 ? 0 : epochS - fromEpochS;
    }

    public Estimate at(double[] sensitivities) {
        return belief.estimate(sensitivities);
    }

    public double parameter(int i) {
        return belief.mean().get(i);
    }
}
