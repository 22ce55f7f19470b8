package io.loopwarden.hydraulics;

import io.loopwarden.hydraulics.LoopReading.PumpReading;
import io.loopwarden.statistics.DailyTrack;
import io.loopwarden.statistics.DailyTrack.Day;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.LearntLine;
import io.loopwarden.statistics.LearntLine.Span;
import java.util.List;
import java.util.Optional;

/**
 * One pump since it was commissioned or changed: its curve and power as they were, what of its head is gone, by day.
 *
 * <p>Curve Δp = o + Δp₀·s² − c·φ² with φ flow over rated flow, o the offset between its sensors; power a·s³ + b·s²·φ + P₀ (affinity
 * laws). Lost head is what of Δp₀ is missing.
 *
 * @param headLoss by day, as a share of Δp₀
 * @param powerShift power over that of commissioning at the same speed and flow, minus 1, by day
 * @param quietScatter scatter of its differential pressure when commissioned
 * @param restless readings in a row that scatter by far more
 * @param madeNewS when the pump was last changed, as far as written
 */
public record PumpHistory(
        Optional<LearntLine> head,
        Optional<LearntLine> power,
        DailyTrack headLoss,
        DailyTrack powerShift,
        double quietScatter,
        int quietOf,
        int restless,
        double madeNewS) {

    static final PumpHistory NEW =
            new PumpHistory(Optional.empty(), Optional.empty(), DailyTrack.EMPTY, DailyTrack.EMPTY, 0, 0, 0, -1e12);

    /** A day of running. */
    private static final Span LEARNING = new Span(86_400, 72);

    private static final double SHAPE = 0.3;
    private static final double READING_RATIO = 0.003;

    /** What the form of the curve may be wrong by. */
    private static final double MODEL_RATIO = 0.003;

    private static final int LEVEL_DAYS = 3;
    private static final double CALL_SCORE = 3;
    private static final double LEAST_CALL = 0.01;
    private static final int QUIET = 72;
    private static final double RESTLESS_RATIO = 3;
    private static final double LEAST_SCATTER = 0.001;

    /** Readings in a row, so that a start or a change of load is none. */
    private static final int RESTLESS_READINGS = 3;

    public boolean learnt() {
        return head.map(LearntLine::learnt).orElse(false);
    }

    PumpHistory after(PumpReading r, double epochS, double offsetPa) {
        if (epochS < madeNewS) {
            return this;
        }
        double ss = r.speedRatio() * r.speedRatio();
        double[] curve = {ss, -r.flowRatio() * r.flowRatio(), 1};
        LearntLine line = head.orElseGet(() -> curvePrior(r, offsetPa));
        double noise = READING_RATIO * Math.abs(r.dpPa()) + 1;
        boolean quiet = line.learnt();
        LearntLine nextHead = line.with(epochS, curve, r.dpPa(), noise * noise, LEARNING);
        DailyTrack loss = headLoss;
        if (quiet) {
            double shutOff = line.parameter(0) * ss;
            double missing = line.parameter(0) > 0
                    ? 1 - (r.dpPa() - line.parameter(2) + line.parameter(1) * r.flowRatio() * r.flowRatio()) / shutOff
                    : 0;
            loss = headLoss.with(epochS, missing);
        }
        PumpHistory next = new PumpHistory(
                Optional.of(nextHead), power, loss, powerShift, quietScatter, quietOf, restless, madeNewS);
        return next.powered(r, epochS).scattered(r);
    }

    private static LearntLine curvePrior(PumpReading r, double offsetPa) {
        double ss = r.speedRatio() * r.speedRatio();
        double rated = r.dpPa() / ((1 + SHAPE) * ss - SHAPE * r.flowRatio() * r.flowRatio());
        double level = rated > 0 ? rated : Math.abs(r.dpPa()) + offsetPa;
        return LearntLine.begin(
                new double[] {(1 + SHAPE) * level, SHAPE * level, 0},
                new double[] {SHAPE * level, 0.5 * SHAPE * level, offsetPa});
    }

    private PumpHistory powered(PumpReading r, double epochS) {
        if (r.powerW().isEmpty() || !(r.powerW().get() > 0)) {
            return this;
        }
        double watts = r.powerW().get();
        double ss = r.speedRatio() * r.speedRatio();
        double[] law = {ss * r.speedRatio(), ss * r.flowRatio(), 1};
        LearntLine line = power.orElseGet(() -> {
            double level = watts / (0.35 * law[0] + 0.65 * law[1]);
            return LearntLine.begin(
                    new double[] {0.35 * level, 0.65 * level, 0},
                    new double[] {0.3 * level, 0.3 * level, 0.05 * level});
        });
        double noise = 2 * READING_RATIO * watts;
        DailyTrack shift =
                line.learnt() ? powerShift.with(epochS, watts / line.at(law).value() - 1) : powerShift;
        return new PumpHistory(
                head,
                Optional.of(line.with(epochS, law, watts, noise * noise, LEARNING)),
                headLoss,
                shift,
                quietScatter,
                quietOf,
                restless,
                madeNewS);
    }

    private PumpHistory scattered(PumpReading r) {
        boolean learning = quietOf < QUIET;
        double quiet = learning ? quietScatter + (r.scatterRatio() - quietScatter) / (quietOf + 1) : quietScatter;
        boolean much = !learning && r.scatterRatio() > RESTLESS_RATIO * Math.max(LEAST_SCATTER, quietScatter);
        return new PumpHistory(
                head,
                power,
                headLoss,
                powerShift,
                quiet,
                learning ? quietOf + 1 : quietOf,
                much ? restless + 1 : 0,
                madeNewS);
    }

    /** Its differential pressure scatters by far more than when it was commissioned: cavitation or air. */
    public boolean isRestless() {
        return restless >= RESTLESS_READINGS;
    }

    /** Share of the head that is gone; mean of the latest days on which it ran alone. */
    public Optional<Estimate> lostHead() {
        return level(headLoss, head.map(h -> h.belief().covariance().standardUncertainty(0) / h.parameter(0)));
    }

    /** Power over that of commissioning at the same speed and flow, minus 1. */
    public Optional<Estimate> morePower() {
        return level(powerShift, Optional.of(READING_RATIO));
    }

    /** Efficiency over that of commissioning, minus 1: what is left of the head over what it takes of power. */
    public Optional<Estimate> efficiencyShift() {
        return lostHead()
                .flatMap(h -> morePower()
                        .map(p -> new Estimate(
                                (1 - h.value()) / (1 + p.value()) - 1,
                                Math.hypot(h.standardUncertainty(), p.standardUncertainty()))));
    }

    private static Optional<Estimate> level(DailyTrack track, Optional<Double> baselineRatio) {
        List<Day> days = track.days();
        if (days.isEmpty()) {
            return Optional.empty();
        }
        // of days in a row: what lies before a change-over belongs to another time
        long newest = days.get(days.size() - 1).epochDay();
        List<Day> last =
                days.stream().filter(d -> d.epochDay() > newest - LEVEL_DAYS).toList();
        double mean = last.stream().mapToDouble(Day::mean).average().orElseThrow();
        double squares = 0;
        for (Day day : last) {
            squares += Math.pow(day.scatterUncertainty() / last.size(), 2);
        }
        double known = Math.min(MODEL_RATIO, baselineRatio.orElse(MODEL_RATIO));
        return Optional.of(new Estimate(mean, Math.sqrt(squares + known * known + MODEL_RATIO * MODEL_RATIO)));
    }

    /** Head is gone beyond what errors explain. */
    public boolean isWorn() {
        return lostHead()
                .filter(w -> w.value() > CALL_SCORE * w.standardUncertainty() && w.value() >= LEAST_CALL)
                .isPresent();
    }

    PumpHistory maintained(Optional<Double> changedS) {
        double newS = changedS.orElse(madeNewS);
        return newS > madeNewS
                ? new PumpHistory(Optional.empty(), Optional.empty(), DailyTrack.EMPTY, DailyTrack.EMPTY, 0, 0, 0, newS)
                : this;
    }
}
