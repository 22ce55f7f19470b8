package io.loopwarden.inventory;

import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Cusum;
import java.util.List;

/**
 * Supply less return flow by mass, relative to what the two meters always differ by. A loss between the meters moves its mean at once,
 * so Page's sum is the test. For one thread.
 */
final class FlowImbalance {

    /** Meters wander against each other; smaller imbalances are not told from that. */
    private static final double WANDER_RATIO = 0.0015;

    private static final double REFERENCE = 1;
    private static final double LEARNING = 1.0 / 600;
    private static final int LEARNT_MINUTES = 120;
    private static final double MOST_Z = 6;
    private static final double MOST_LOG_ODDS = 8;
    /** Share of losses that happen between the meters. */
    private static final double BETWEEN = 0.7;

    private static final double LITRES_PER_H = 3.6e6;

    private final Coolant coolant;
    private final Cusum sum;
    private final double ratedM3PerS;
    private double usualRatio;
    private double variance = WANDER_RATIO * WANDER_RATIO;
    private int minutes;
    private double nowRatio;
    private double flowM3PerS;
    private boolean present;
    private double densityRatio = 1;

    FlowImbalance(Coolant coolant, double ratedM3PerS, double falseAlarmYears) {
        this.coolant = coolant;
        this.ratedM3PerS = ratedM3PerS;
        this.sum = Cusum.forInterval(REFERENCE, falseAlarmYears * 8766 * 60);
    }

    void accept(LoopMinute minute, boolean settled, boolean suspected) {
        Span supply = minute.of(LoopPoint.FLOW);
        Span back = minute.of(LoopPoint.RETURN_FLOW);
        Span cool = minute.of(LoopPoint.SUPPLY_TEMPERATURE);
        Span warm = minute.of(LoopPoint.RETURN_TEMPERATURE);
        present = supply.seen() && back.seen() && cool.seen() && warm.seen();
        if (!present || !settled || supply.mean() < 0.2 * ratedM3PerS) {
            return;
        }
        flowM3PerS = supply.mean();
        double density = coolant.stateAt(warm.mean())
                .flatMap(w -> coolant.stateAt(cool.mean()).map(c -> w.densityKgPerM3() / c.densityKgPerM3()))
                .fold(r -> r, gap -> 1.0);
        densityRatio = density;
        double ratio = 1 - back.mean() * density / supply.mean();
        if (minutes == 0) {
            usualRatio = ratio;
            nowRatio = ratio;
        }
        nowRatio += 0.5 * (ratio - nowRatio);
        double z = (ratio - usualRatio) / deviation();
        minutes++;
        if (!suspected) {
            double weight = Math.max(LEARNING, 1.0 / (minutes + 1));
            double clipped = Math.max(-MOST_Z, Math.min(MOST_Z, z)) * deviation();
            usualRatio += weight * clipped;
            variance += weight * (clipped * clipped - variance);
        }
        if (learnt()) {
            sum.accept(Math.min(MOST_Z, z));
        }
    }

    private double deviation() {
        return Math.sqrt(Math.max(variance, WANDER_RATIO * WANDER_RATIO));
    }

    /** Imbalance of two values beyond what is usual, relative to the supply flow. */
    double beyondUsual(double supplyM3PerS, double returnM3PerS) {
        return 1 - returnM3PerS * densityRatio / supplyM3PerS - usualRatio;
    }

    List<Double> memory() {
        return List.of(usualRatio, variance, (double) minutes);
    }

    void restore(List<Double> remembered) {
        usualRatio = remembered.get(0);
        nowRatio = usualRatio;
        variance = Math.max(WANDER_RATIO * WANDER_RATIO, remembered.get(1));
        minutes = remembered.get(2).intValue();
    }

    boolean present() {
        return present;
    }

    boolean learnt() {
        return minutes >= LEARNT_MINUTES;
    }

    /** Page's sum is above its limit. */
    boolean signals() {
        return present && learnt() && sum.isAbove();
    }

    double imbalanceLPerH() {
        return (nowRatio - usualRatio) * flowM3PerS * LITRES_PER_H;
    }

    double uncertaintyLPerH() {
        return deviation() * flowM3PerS * LITRES_PER_H;
    }

    /** What the imbalance now says for a loss of that rate against none; a loss beside the meters does not show. */
    double logOdds(double rateLPerH) {
        if (!present || !learnt() || !(rateLPerH > 0)) {
            return 0;
        }
        double seen = imbalanceLPerH() / uncertaintyLPerH();
        double expected = rateLPerH / uncertaintyLPerH();
        double ratio = Math.exp(Math.min(50, seen * expected - 0.5 * expected * expected));
        return Math.min(MOST_LOG_ODDS, Math.log(BETWEEN * ratio + 1 - BETWEEN));
    }
}
