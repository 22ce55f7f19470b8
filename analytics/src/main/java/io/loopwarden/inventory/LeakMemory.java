package io.loopwarden.inventory;

import java.util.List;
import java.util.Objects;
import java.util.Optional;

/**
 * What is learnt of a loop's content and of what witnesses it, and a loss that goes on.
 *
 * @param endS end of the last minute taken; 0 before the first
 * @param filter mean of each state and their covariances, row by row; empty before the level came
 * @param offsetL make-up put back and ordinary loss taken out so far
 * @param makeupM3 counter of the make-up
 * @param levelNoiseRatio deviation of one value of the level
 * @param levelStepRatio smallest step of the level seen; 0 before two values differ
 * @param speed of the pumps; negative where not known
 * @param flow usual imbalance, its variance, and the minutes they were learnt from
 * @param pressure pairs, and sums of squares and products of level and static pressure
 * @param applied names of the maintenance entries that are in the content already, with what they added
 */
public record LeakMemory(
        long endS,
        Optional<FilterState> filter,
        double offsetL,
        Optional<Double> makeupM3,
        double levelNoiseRatio,
        double levelStepRatio,
        double speed,
        List<Double> flow,
        List<Double> pressure,
        Optional<Loss> loss,
        List<Applied> applied) {

    public static final LeakMemory EMPTY = new LeakMemory(
            0,
            Optional.empty(),
            0,
            Optional.empty(),
            0,
            0,
            -1,
            List.of(0.0, 0.0, 0.0),
            List.of(0.0, 0.0, 0.0, 0.0),
            Optional.empty(),
            List.of());

    /** @param sensitivities of the level to the states in the last minute */
    public record FilterState(List<Double> means, List<Double> covariances, List<Double> sensitivities, double scale) {
        public FilterState {
            means = List.copyOf(means);
            covariances = List.copyOf(covariances);
            sensitivities = List.copyOf(sensitivities);
            if (means.size() != LoopFilter.STATES
                    || sensitivities.size() != LoopFilter.STATES
                    || covariances.size() != LoopFilter.STATES * LoopFilter.STATES) {
                throw new IllegalArgumentException("a loop's filter has " + LoopFilter.STATES + " states");
            }
        }
    }

    /** A loss that was called. */
    public record Loss(
            long onsetS,
            boolean burst,
            double logOdds,
            double contentAtOnsetL,
            double rateLPerH,
            double rateUncertaintyLPerH,
            double lostL,
            double lostUncertaintyL,
            boolean stopped,
            long stoppedS) {}

    /** A maintenance entry that is in the content already. */
    public record Applied(String entry, double addedL) {}

    public LeakMemory {
        Objects.requireNonNull(filter, "filter");
        Objects.requireNonNull(makeupM3, "makeupM3");
        Objects.requireNonNull(loss, "loss");
        flow = List.copyOf(flow);
        pressure = List.copyOf(pressure);
        applied = List.copyOf(applied);
        if (flow.size() != 3 || pressure.size() != 4) {
            throw new IllegalArgumentException("flow has 3 and pressure 4 numbers");
        }
    }
}
