package io.loopwarden.hydraulics;

import io.loopwarden.hydraulics.LoopReading.BranchFlow;
import io.loopwarden.statistics.Covariance;
import io.loopwarden.statistics.DailyTrack;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.GaussianBelief;
import io.loopwarden.statistics.LearntLine;
import io.loopwarden.statistics.LearntLine.Span;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * One filter since its element was new: how it resisted when clean, its loading by day, and steps.
 *
 * <p>Clean it follows Δp = o + a·v + b·w with v ∝ μQ and w ∝ ρQ², both 1 in the reference state, o the sensor's offset; that it loads
 * while it is learnt is a fourth parameter.
 *
 * @param clean empty before the first reading
 * @param shown differential pressure over that of the clean element at an even share of the flow, by day: the loading as it shows
 * @param latest loading at the last few readings, oldest first
 * @param usual slow mean of the loading
 * @param event the last step that was not yet dealt with
 * @param trendFromS since when loading grows without a step
 * @param madeNewS when the element was last changed, as far as written; earlier changes are dealt with
 */
public record FilterHistory(
        Optional<LearntLine> clean,
        DailyTrack shown,
        List<Double> latest,
        double usual,
        int usualOf,
        Optional<FilterEvent> event,
        double trendFromS,
        double madeNewS) {

    static final FilterHistory NEW = begin(Double.NEGATIVE_INFINITY);

    private static final Span LEARNING = new Span(4 * 86_400, 144);
    private static final double SECONDS_PER_DAY = 86_400;
    private static final int LATEST = 3;
    private static final int USUAL = 36;
    private static final double LEAST_STEP_RATIO = 0.12;
    private static final double CLEAN_FROM = 0.8;
    private static final double CLEAN_TO = 1.25;

    /** What a filter may gain of its clean resistance in a day while it is learnt. */
    private static final double GROWTH_PER_DAY = 0.03;

    private static final double LEVEL_RATIO = 0.5;
    private static final double NOISE_RATIO = 0.003;

    /** @param viscousShare prior of the share of clean resistance that is viscous at the reference */
    record Priors(Estimate viscousShare, double offsetPa, double noisePa) {}

    static FilterHistory begin(double madeNewS) {
        double known = madeNewS == Double.NEGATIVE_INFINITY ? -1e12 : madeNewS;
        return new FilterHistory(Optional.empty(), DailyTrack.EMPTY, List.of(), 0, 0, Optional.empty(), known, known);
    }

    public FilterHistory {
        latest = List.copyOf(latest);
    }

    public boolean learnt() {
        return clean.map(LearntLine::learnt).orElse(false);
    }

    /** Teaches the clean resistance, as long as it is not learnt. */
    FilterHistory learn(double epochS, double dpPa, BranchFlow flow, Priors priors) {
        if (epochS < madeNewS || learnt()) {
            return this;
        }
        LearntLine line = clean.orElseGet(() -> prior(dpPa, flow, priors));
        double days = line.sinceS(epochS) / SECONDS_PER_DAY;
        double share = priors.viscousShare.value();
        double shape = share * flow.viscousRatio() + (1 - share) * flow.inertialRatio();
        double[] sensitivities = {1, flow.viscousRatio(), flow.inertialRatio(), days * shape};
        // readings of one hour share what is not noise, so each counts less than its noise would say
        double noise = Math.hypot(priors.noisePa, NOISE_RATIO * Math.abs(dpPa));
        LearntLine after = line.with(epochS, sensitivities, dpPa, noise * noise, LEARNING);
        return new FilterHistory(Optional.of(after), shown, latest, usual, usualOf, event, trendFromS, madeNewS);
    }

    private static LearntLine prior(double dpPa, BranchFlow flow, Priors p) {
        double share = p.viscousShare.value();
        double level =
                Math.max(2 * p.offsetPa, dpPa / (share * flow.viscousRatio() + (1 - share) * flow.inertialRatio()));
        double u = p.viscousShare.standardUncertainty() * level;
        double whole = LEVEL_RATIO * level;
        double growth = GROWTH_PER_DAY * level;
        double[][] covariance = {
            {p.offsetPa * p.offsetPa, 0, 0, 0},
            {0, u * u + share * share * whole * whole, share * (1 - share) * whole * whole - u * u, 0},
            {0, share * (1 - share) * whole * whole - u * u, u * u + (1 - share) * (1 - share) * whole * whole, 0},
            {0, 0, 0, growth * growth}
        };
        return LearntLine.begin(
                new GaussianBelief(List.of(0.0, share * level, (1 - share) * level, 0.0), Covariance.of(covariance)));
    }

    /** Differential pressure of the clean element at an even share of a flow, without the sensor's offset. */
    double cleanPa(BranchFlow flow) {
        LearntLine line = clean.orElseThrow();
        return line.parameter(1) * flow.viscousRatio() + line.parameter(2) * flow.inertialRatio();
    }

    /** The same at rated flow and 40 °C. */
    public double cleanAtReferencePa() {
        return cleanPa(new BranchFlow(1, 1));
    }

    /** The same at another share of the flow, 1 is even. */
    double cleanPa(BranchFlow flow, double share) {
        LearntLine line = clean.orElseThrow();
        return line.parameter(1) * flow.viscousRatio() * share
                + line.parameter(2) * flow.inertialRatio() * share * share;
    }

    double offsetPa() {
        return clean.orElseThrow().parameter(0);
    }

    /** Standard uncertainty of offset and clean differential pressure together, as seen at a loading. */
    double cleanUncertaintyPa(BranchFlow flow, double ratio) {
        return clean.orElseThrow()
                .at(new double[] {1, ratio * flow.viscousRatio(), ratio * flow.inertialRatio(), 0})
                .standardUncertainty();
    }

    /** Takes the loading of one reading; {@code common} where all filters stepped alike, which is the flow meter's doing. */
    FilterHistory loaded(double epochS, double shows, double ratio, boolean common) {
        List<Double> last = new ArrayList<>(latest);
        last.add(ratio);
        last = last.subList(Math.max(0, last.size() - LATEST), last.size());
        double mean = last.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
        DailyTrack track = shown.with(epochS, shows);
        if (stepped(last) && !common) {
            FilterEvent step = new FilterEvent(kind(usual, mean), epochS, usual, mean, false);
            return new FilterHistory(clean, track, last, mean, LATEST, Optional.of(step), epochS, madeNewS);
        }
        int n = Math.min(USUAL, usualOf + 1);
        double next = common ? mean : usual + (ratio - usual) / n;
        return new FilterHistory(clean, track, last, next, n, event, trendFromS, madeNewS);
    }

    /** All of the last readings lie beside the usual loading, on one side, by more than it ever scatters. */
    boolean stepped(List<Double> last) {
        if (usualOf < 2 * LATEST || last.size() < LATEST) {
            return false;
        }
        double limit = LEAST_STEP_RATIO * usual;
        return last.stream().allMatch(r -> r - usual > limit) || last.stream().allMatch(r -> usual - r > limit);
    }

    private static FilterEvent.Kind kind(double from, double to) {
        if (to > from) {
            return FilterEvent.Kind.DEBRIS;
        }
        boolean toClean = to >= CLEAN_FROM && to <= CLEAN_TO && from > CLEAN_TO;
        return toClean ? FilterEvent.Kind.CHANGE_OUT : FilterEvent.Kind.BYPASS;
    }

    /** What somebody wrote of it: a change makes everything new from its end on, a confirmation settles the last step. */
    FilterHistory maintained(Optional<Double> changedS, Optional<Double> confirmedS) {
        boolean seenChange = confirmedS.isPresent()
                && event.isPresent()
                && event.get().kind() == FilterEvent.Kind.CHANGE_OUT
                && event.get().atEpochS() <= confirmedS.get();
        double newS = Math.max(
                changedS.orElse(madeNewS), seenChange ? event.orElseThrow().atEpochS() : madeNewS);
        if (newS > madeNewS) {
            return begin(newS);
        }
        Optional<FilterEvent> settled =
                event.map(e -> confirmedS.isPresent() && e.atEpochS() <= confirmedS.get() ? e.confirm() : e);
        return settled.equals(event)
                ? this
                : new FilterHistory(clean, shown, latest, usual, usualOf, settled, trendFromS, madeNewS);
    }
}
