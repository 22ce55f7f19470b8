package io.loopwarden.inventory;

import io.loopwarden.statistics.OnsetTest;
import io.loopwarden.statistics.SizePrior;

/**
 * The content's innovations, searched for a loss that goes on, one that follows the pressure between the loops, and a jump. For one
 * thread.
 */
final class LossTests {

    static final double LONGEST_H = 72;
    private static final double HOURS_A_YEAR = 8766;
    private static final int ONSETS = 48;
    private static final int LEAST_ROWS = 3;
    /** What the maximum over neighbouring onsets and the unknown size add to the logarithm of the limit. */
    private static final double MAXIMUM = 1;
    /** A jump must fit better by so much than a loss that goes on before it is taken for one. */
    private static final double JUMP_BETTER = 3;

    private static final double NOT_NEAR = -100;
    /** Below it no onset is near any limit. */
    private static final double LEAST_Z = 3;

    private final LeakSettings settings;
    private final double leastLossL;
    private final OnsetTest loss = new OnsetTest(OnsetTest.Shape.RAMP, LoopFilter.STATES, ONSETS);
    private final OnsetTest cross = new OnsetTest(OnsetTest.Shape.RAMP, LoopFilter.STATES, ONSETS);
    private final OnsetTest jump = new OnsetTest(OnsetTest.Shape.STEP, LoopFilter.STATES, ONSETS);
    private final SizePrior rates;
    private final SizePrior jumps;
    private Finding finding = Finding.NONE;
    private boolean current = true;
    private boolean crossKnown;

    LossTests(LeakSettings settings, double reservoirL, double stepRatio) {
        this.settings = settings;
        this.leastLossL = 3 * stepRatio * reservoirL;
        this.rates = new SizePrior(settings.leastRateLPerH(), settings.mostRateLPerH());
        this.jumps = new SizePrior(0.002 * reservoirL, reservoirL);
    }

    /**
     * @param loss logarithm of the odds of an external loss against nothing, from the content alone
     * @param cross the same for a leak between the loops
     * @param jump the same for a jump
     * @param margin logarithm by which the best loss is beyond its limit; negative below it
     * @param crossMargin the same for the best leak between the loops
     * @param crossLPerH what that passes at 100 kPa
     * @param jumpBetter a jump fits clearly better than a loss
     * @param visibleLPerH loss that would be called after a day
     */
    record Finding(
            double loss,
            double cross,
            double jump,
            double margin,
            double crossMargin,
            double rateLPerH,
            double rateUncertaintyLPerH,
            double ageH,
            double crossLPerH,
            double crossUncertaintyLPerH,
            boolean jumpBetter,
            double visibleLPerH) {

        static final Finding NONE = new Finding(
                Double.NEGATIVE_INFINITY,
                Double.NEGATIVE_INFINITY,
                Double.NEGATIVE_INFINITY,
                NOT_NEAR,
                NOT_NEAR,
                0,
                Double.POSITIVE_INFINITY,
                0,
                0,
                Double.POSITIVE_INFINITY,
                false,
                Double.POSITIVE_INFINITY);
    }

    void pass(double hours, double crossDriver) {
        crossKnown |= crossDriver != 0;
        loss.pass(hours, hours);
        if (crossKnown) {
            cross.pass(hours, crossDriver);
        }
        jump.pass(hours, 0);
    }

    void accept(
            double hours,
            double crossDriver,
            double[] sensitivities,
            double[] gain,
            double innovation,
            double variance) {
        loss.accept(hours, hours, sensitivities, gain, innovation, variance);
        if (crossKnown) {
            cross.accept(hours, crossDriver, sensitivities, gain, innovation, variance);
        }
        jump.accept(hours, 0, sensitivities, gain, innovation, variance);
        loss.forgetOlderThan(LONGEST_H);
        cross.forgetOlderThan(LONGEST_H);
        jump.forgetOlderThan(LONGEST_H);
        current = false;
    }

    void clear() {
        loss.clear();
        cross.clear();
        jump.clear();
        finding = Finding.NONE;
        current = true;
    }

    /** All that the tests say; worked out when asked for, since it costs more than taking a minute. */
    Finding finding() {
        if (!current) {
            finding = find();
            current = true;
        }
        return finding;
    }

    /** Some onset of a loss is beyond its limit. */
    boolean signals() {
        return signals(loss);
    }

    /** Some onset of a leak between the loops is beyond its limit. */
    boolean crossSignals() {
        return signals(cross);
    }

    private boolean signals(OnsetTest test) {
        for (int i = 0; i < test.count(); i++) {
            if (test.standardised(i) > LEAST_Z && beyond(test, i) > 0) {
                return true;
            }
        }
        return false;
    }

    private double beyond(OnsetTest test, int i) {
        double z = test.standardised(i);
        boolean enough = z > 0 && test.rows(i) >= LEAST_ROWS && test.size(i) * test.age(i) >= leastLossL;
        return enough ? 0.5 * z * z - limit(settings.falseAlarmYears(), test.age(i)) : NOT_NEAR;
    }

    /** Limit of the log likelihood ratio: the rarer the wanted false call and the more onsets of that age a year, the higher. */
    static double limit(double falseAlarmYears, double ageH) {
        return Math.log(falseAlarmYears * HOURS_A_YEAR / ageH) + MAXIMUM;
    }

    private Finding find() {
        int best = best(loss);
        int bestCross = best(cross);
        double z = best < 0 ? 0 : loss.standardised(best);
        // without pressures only a gain can be told from an external loss
        double between = crossKnown
                ? logOdds(cross, settings.crossPerYear(), rates, 1)
                : logOdds(loss, settings.crossPerYear(), rates, -1);
        double jumped = SizePrior.sum(
                logOdds(jump, 0.5 * settings.jumpsPerYear(), jumps, 1),
                logOdds(jump, 0.5 * settings.jumpsPerYear(), jumps, -1));
        double jumpZ = 0;
        for (int i = 0; i < jump.count(); i++) {
            jumpZ = Math.max(jumpZ, jump.standardised(i));
        }
        return new Finding(
                logOdds(loss, settings.lossesPerYear(), rates, 1),
                between,
                jumped,
                best < 0 ? NOT_NEAR : beyond(loss, best),
                bestCross < 0 ? NOT_NEAR : beyond(cross, bestCross),
                best < 0 ? 0 : loss.size(best),
                best < 0 ? Double.POSITIVE_INFINITY : loss.sizeUncertainty(best),
                best < 0 ? 0 : loss.age(best),
                bestCross < 0 ? 0 : cross.size(bestCross),
                bestCross < 0 ? 0 : cross.sizeUncertainty(bestCross),
                0.5 * jumpZ * jumpZ > 0.5 * z * z + JUMP_BETTER,
                visible());
    }

    private int best(OnsetTest test) {
        int best = -1;
        double margin = NOT_NEAR;
        for (int i = 0; i < test.count(); i++) {
            double above = beyond(test, i);
            if (above > margin) {
                margin = above;
                best = i;
            }
        }
        return best;
    }

    /** Logarithm of the odds against nothing of a change that happens so often a year, whenever it began. */
    private static double logOdds(OnsetTest test, double perYear, SizePrior sizes, int sign) {
        double sum = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < test.count(); i++) {
            double hours = test.span(i);
            if (hours > 0) {
                double factor = sizes.logBayesFactor(sign * test.standardised(i), test.sizeUncertainty(i));
                sum = SizePrior.sum(sum, Math.log(perYear / HOURS_A_YEAR * hours) + factor);
            }
        }
        return sum;
    }

    private double visible() {
        for (int i = loss.count() - 1; i >= 0; i--) {
            if (loss.age(i) >= 24 || i == 0) {
                return Math.sqrt(2 * limit(settings.falseAlarmYears(), Math.max(0.05, loss.age(i))))
                        * loss.sizeUncertainty(i);
            }
        }
        return Double.POSITIVE_INFINITY;
    }
}
