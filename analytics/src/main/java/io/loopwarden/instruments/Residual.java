package io.loopwarden.instruments;

import io.loopwarden.statistics.DailyTrack;
import io.loopwarden.statistics.DailyTrack.Day;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.LearntLine;
import io.loopwarden.statistics.LearntLine.Span;
import java.util.List;
import java.util.Optional;

/**
 * One thing that sensors say of each other: what it was when learnt, and what has been added since, by day.
 *
 * @param usual constant and share of the temperature rise
 */
public record Residual(Optional<LearntLine> usual, DailyTrack added) {

    static final Residual NEW = new Residual(Optional.empty(), DailyTrack.EMPTY);

    private static final int LEVEL_DAYS = 3;

    /** Days whose scatter among each other tells how far a day's mean can be believed. */
    private static final int SCATTER_DAYS = 7;

    /**
     * How a residual is learnt.
     *
     * @param noise of one reading
     * @param floor what a level may be off by at least
     * @param shares whether it grows with the temperature rise
     */
    record Form(Span span, double noise, double floor, boolean shares, double priorSd) {}

    Residual after(double epochS, double value, double riseK, Form form) {
        double[] law = {1, form.shares() ? riseK : 0};
        LearntLine line = usual.orElseGet(() ->
                LearntLine.begin(new double[] {0, 0}, new double[] {form.priorSd(), form.shares() ? 0.02 : 1e-9}));
        LearntLine next = line.with(epochS, law, value, form.noise() * form.noise(), form.span());
        return new Residual(
                Optional.of(next),
                line.learnt() ? added.with(epochS, value - line.at(law).value()) : added);
    }

    /** What has been added, mean of the latest days; empty while it is learnt. */
    Optional<Estimate> level(Form form) {
        List<Day> days = added.days();
        if (days.isEmpty()) {
            return Optional.empty();
        }
        List<Day> last = days.subList(Math.max(0, days.size() - LEVEL_DAYS), days.size());
        double mean = last.stream().mapToDouble(Day::mean).average().orElseThrow();
        double scatter = scatter(days);
        double known = usual.orElseThrow().belief().covariance().standardUncertainty(0);
        double u = Math.sqrt(scatter * scatter / last.size()
                + Math.min(known, form.floor()) * Math.min(known, form.floor())
                + form.floor() * form.floor());
        return Optional.of(new Estimate(mean, u));
    }

    /** Scatter of daily means from day to day, which a slow drift hardly adds to. */
    private static double scatter(List<Day> days) {
        List<Day> last = days.subList(Math.max(0, days.size() - SCATTER_DAYS), days.size());
        double squares = 0;
        for (int i = 1; i < last.size(); i++) {
            double d = last.get(i).mean() - last.get(i - 1).mean();
            squares += d * d / 2;
        }
        return last.size() < 2 ? last.get(0).scatterUncertainty() : Math.sqrt(squares / (last.size() - 1));
    }

    /** The usual constant: by how much the sensors of a pair differ. */
    Optional<Double> constant() {
        return usual.filter(LearntLine::learnt).map(line -> line.parameter(0));
    }
}
