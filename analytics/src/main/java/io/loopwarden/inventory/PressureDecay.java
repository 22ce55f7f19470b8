package io.loopwarden.inventory;

import io.loopwarden.statistics.Sprt;

/** Static pressure while the pumps stand: Wald's test of a tight loop against one that loses coolant. For one thread. */
final class PressureDecay {

    private static final double ERROR_RATE = 0.01;
    private static final int CALMING_MINUTES = 5;
    private static final int BLOCK_MINUTES = 10;
    private static final double MOST_LOG_ODDS = 4.6;
    /** Loss that the test is made for, of the loop an hour: 2 L/h of 400 L. */
    private static final double LOSS_PER_H = 5e-3;

    private final Sprt test = new Sprt(ERROR_RATE, ERROR_RATE);
    private final double loopL;
    private final double coolingL;
    private int minutes;
    private double sum;
    private int count;
    private double last;
    private boolean hasLast;

    /** @param coolingPerRootH unseen cooling of a loop at rest, of its volume a root hour */
    PressureDecay(double loopL, double coolingPerRootH) {
        this.loopL = loopL;
        this.coolingL = coolingPerRootH * loopL * Math.sqrt(BLOCK_MINUTES / 60.0);
    }

    void accept(boolean running, Span pressure, PressureWitness witness) {
        if (running) {
            minutes = 0;
            hasLast = false;
            sum = 0;
            count = 0;
            if (test.logRatio() != 0) {
                test.reset();
            }
            return;
        }
        minutes++;
        if (minutes <= CALMING_MINUTES || !pressure.seen() || !witness.learnt()) {
            return;
        }
        sum += pressure.mean();
        count++;
        if (count == BLOCK_MINUTES) {
            block(sum / count, witness);
            sum = 0;
            count = 0;
        }
    }

    private void block(double meanPa, PressureWitness witness) {
        if (hasLast) {
            double movedL = (meanPa - last) / witness.stiffnessPaPerL();
            double sensorL = witness.deviationPa() / witness.stiffnessPaPerL();
            double expectedL = -LOSS_PER_H * loopL * BLOCK_MINUTES / 60.0;
            test.accept(movedL, 0, expectedL, Math.hypot(sensorL, coolingL));
        }
        last = meanPa;
        hasLast = true;
    }

    boolean decided() {
        return test.decision() != Sprt.Decision.NONE_YET;
    }

    /** Of a leak against none, from the test; nought while the pumps run. */
    double logOdds() {
        return Math.max(-MOST_LOG_ODDS, Math.min(MOST_LOG_ODDS, test.logRatio()));
    }
}
