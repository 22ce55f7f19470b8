package io.loopwarden.hydraulics;

import io.loopwarden.statistics.DailyTrack;
import io.loopwarden.statistics.DailyTrack.Day;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.LearntLine;
import io.loopwarden.statistics.LearntLine.Span;
import java.util.List;
import java.util.Optional;

/**
 * Resistance of the racks against load, as it was learnt, and what it has become at the same load: racks open their valves with load,
 * so resistance alone says nothing.
 *
 * @param change resistance over the learnt one at the same load, minus 1, by day
 */
public record RackHistory(Optional<LearntLine> learnt, DailyTrack change) {

    static final RackHistory NEW = new RackHistory(Optional.empty(), DailyTrack.EMPTY);

    private static final Span LEARNING = new Span(5 * 86_400, 240);
    private static final double USUAL_LOAD = 0.6;
    private static final double NOISE = 0.02;
    private static final double MODEL_RATIO = 0.01;
    private static final int LEVEL_DAYS = 2;

    /** @param resistanceRatio over the one promised */
    RackHistory after(double epochS, double loadRatio, double resistanceRatio) {
        if (!(resistanceRatio > 0)) {
            return this;
        }
        double value = Math.log(resistanceRatio);
        double x = loadRatio - USUAL_LOAD;
        double[] form = {1, x, x * x};
        LearntLine line = learnt.orElseGet(() -> LearntLine.begin(new double[] {value, 0, 0}, new double[] {1, 1, 1}));
        DailyTrack next = line.learnt()
                ? change.with(epochS, Math.expm1(value - line.at(form).value()))
                : change;
        return new RackHistory(Optional.of(line.with(epochS, form, value, NOISE * NOISE, LEARNING)), next);
    }

    /** Mean change of the latest days. */
    public Optional<Estimate> changed() {
        List<Day> days = change.days();
        if (days.isEmpty()) {
            return Optional.empty();
        }
        List<Day> last = days.subList(Math.max(0, days.size() - LEVEL_DAYS), days.size());
        double mean = last.stream().mapToDouble(Day::mean).average().orElseThrow();
        double squares = 0;
        for (Day day : last) {
            squares += Math.pow(day.scatterUncertainty() / last.size(), 2);
        }
        return Optional.of(new Estimate(mean, Math.sqrt(squares + MODEL_RATIO * MODEL_RATIO)));
    }
}
