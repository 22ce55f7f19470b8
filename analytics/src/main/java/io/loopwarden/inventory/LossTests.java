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
    private static final int ONSETS = 64;
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

    LossTests(LeakSettings settings, double reservoirL, double stepRatio) {
        this.settings = settings;
        this.leastLossL = 3 * stepRatio * reservoirL;
        this.rates = new SizePrior(settings.leastRateLPerH(), settings.mostRateLPerH());
        this.jumps = new SizePrior(0.002 * reservoirL, reservoirL);
    }

    /**
     * @param lossOdds odds of an external loss against nothing, from the content alone
     * @param crossOdds the same for a leak between the loops
     * @param jumpOdds the same for a jump
     * @param margin logarithm by which the best loss is beyond its limit; negative below it
     * @param logRatio generalised log likelihood ratio of the best loss
     * @param jumpBetter a jump fits clearly better
     * @param visibleLPerH loss that would be called after a day
     */
    record Finding(
            double lossOdds,
            double crossOdds,
            double jumpOdds,
            double margin,
            double logRatio,
            double rateLPerH,
            double rateUncertaintyLPerH,
            double ageH,
            double gainZ,
            boolean crossBetter,
            boolean jumpBetter,
            double visibleLPerH) {

        static final Finding NONE = new Finding(
                0, 0, 0, NOT_NEAR, 0, 0, Double.POSITIVE_INFINITY, 0, 0, false, false, Double.POSITIVE_INFINITY);
    }

    void pass(double hours, double crossDriver) {
        loss.pass(hours, hours);
        cross.pass(hours, crossDriver);
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
        cross.accept(hours, crossDriver, sensitivities, gain, innovation, variance);
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

    /** Some onset is beyond its limit. */
    boolean signals() {
        for (int i = 0; i < loss.count(); i++) {
            if (loss.standardised(i) > LEAST_Z && beyond(i) > 0) {
                return true;
            }
        }
        return false;
    }

    private double beyond(int i) {
        double z = loss.standardised(i);
        boolean enough = z > 0 && loss.rows(i) >= LEAST_ROWS && loss.size(i) * loss.age(i) >= leastLossL;
        return enough ? 0.5 * z * z - limit(settings.falseAlarmYears(), loss.age(i)) : NOT_NEAR;
    }

    /** Limit of the log likelihood ratio: the rarer the wanted false call and the more onsets of that age a year, the higher. */
    static double limit(double falseAlarmYears, double ageH) {
        return Math.log(falseAlarmYears * HOURS_A_YEAR / ageH) + MAXIMUM;
    }

    private Finding find() {
        double lossOdds = 0;
        double margin = NOT_NEAR;
        int best = -1;
        double gainZ = 0;
        for (int i = 0; i < loss.count(); i++) {
            double z = loss.standardised(i);
            lossOdds += settings.lossesPerYear()
                    / HOURS_A_YEAR
                    * loss.span(i)
                    * rates.bayesFactor(z, loss.sizeUncertainty(i));
            gainZ = Math.max(gainZ, -z);
            double above = beyond(i);
            if (above > margin) {
                margin = above;
                best = i;
            }
        }
        double crossOdds = 0;
        double bestCross = 0;
        for (int i = 0; i < cross.count(); i++) {
            double z = cross.standardised(i);
            crossOdds += settings.crossPerYear()
                    / HOURS_A_YEAR
                    * cross.span(i)
                    * rates.bayesFactor(z, cross.sizeUncertainty(i));
            bestCross = Math.max(bestCross, z);
        }
        double jumpOdds = 0;
        double bestJump = 0;
        for (int i = 0; i < jump.count(); i++) {
            double z = jump.standardised(i);
            jumpOdds += settings.jumpsPerYear()
                    / HOURS_A_YEAR
                    * jump.span(i)
                    * 0.5
                    * (jumps.bayesFactor(z, jump.sizeUncertainty(i)) + jumps.bayesFactor(-z, jump.sizeUncertainty(i)));
            bestJump = Math.max(bestJump, z);
        }
        double z = best < 0 ? 0 : loss.standardised(best);
        return new Finding(
                lossOdds,
                crossOdds,
                jumpOdds,
                margin,
                0.5 * z * z,
                best < 0 ? 0 : loss.size(best),
                best < 0 ? Double.POSITIVE_INFINITY : loss.sizeUncertainty(best),
                best < 0 ? 0 : loss.age(best),
                gainZ,
                bestCross > z,
                0.5 * bestJump * bestJump > 0.5 * z * z + JUMP_BETTER,
                visible());
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
