package io.loopwarden.inventory;

import io.loopwarden.statistics.Sprt;
import io.loopwarden.statistics.Sprt.Decision;

/** A loss that was called, from its onset until it stops or is explained. For one thread. */
final class Episode {

    private static final double ERROR_RATE = 0.01;
    private static final int LONGEST_BLOCK = 240;
    private static final double LEAST_SHARE = 0.6;
    private static final double MOST_DEVIATIONS = 4;

    private final Sprt goesOn = new Sprt(ERROR_RATE, ERROR_RATE);
    private final long onsetS;
    private final boolean burst;
    private final double logOdds;
    private double contentAtOnsetL;
    private double rateLPerH;
    private double rateUncertaintyLPerH;
    private double lostL;
    private double lostUncertaintyL;
    private int rows;
    private double sum;
    private double blockHours;
    private double lastMean;
    private boolean hasLast;
    private boolean stopped;
    private long stoppedS;

    Episode(
            long onsetS,
            double ageH,
            boolean burst,
            double logOdds,
            double contentNowL,
            double rateLPerH,
            double uncertaintyLPerH) {
        this.onsetS = onsetS;
        this.burst = burst;
        this.logOdds = logOdds;
        this.rateLPerH = rateLPerH;
        this.rateUncertaintyLPerH = uncertaintyLPerH;
        this.lostL = rateLPerH * ageH;
        this.lostUncertaintyL = uncertaintyLPerH * ageH;
        this.contentAtOnsetL = contentNowL + lostL;
    }

    /** Goes on with a loss that was called before a restart. */
    static Episode of(LeakMemory.Loss l) {
        Episode episode = new Episode(
                l.onsetS(), 0, l.burst(), l.logOdds(), l.contentAtOnsetL(), l.rateLPerH(), l.rateUncertaintyLPerH());
        episode.lostL = l.lostL();
        episode.lostUncertaintyL = l.lostUncertaintyL();
        episode.stopped = l.stopped();
        episode.stoppedS = l.stoppedS();
        return episode;
    }

    LeakMemory.Loss memory() {
        return new LeakMemory.Loss(
                onsetS,
                burst,
                logOdds,
                contentAtOnsetL,
                rateLPerH,
                rateUncertaintyLPerH,
                lostL,
                lostUncertaintyL,
                stopped,
                stoppedS);
    }

    long onsetS() {
        return onsetS;
    }

    boolean burst() {
        return burst;
    }

    double logOdds() {
        return logOdds;
    }

    double rateLPerH() {
        return rateLPerH;
    }

    double rateUncertaintyLPerH() {
        return rateUncertaintyLPerH;
    }

    double lostL() {
        return Math.max(0, lostL);
    }

    double lostUncertaintyL() {
        return lostUncertaintyL;
    }

    boolean stopped() {
        return stopped;
    }

    long stoppedS() {
        return stoppedS;
    }

    /** A part of what went away is explained, or coolant was put in that nothing counts. */
    void explained(double litres) {
        contentAtOnsetL -= litres;
        lostL -= litres;
    }

    /**
     * Takes a minute's content.
     *
     * @param deviationL of that content
     */
    void accept(long endS, double hours, double contentL, double deviationL) {
        lostL = contentAtOnsetL - contentL;
        lostUncertaintyL = Math.max(deviationL, Math.min(lostUncertaintyL, 0.1 * Math.abs(lostL) + deviationL));
        rows++;
        sum += contentL;
        blockHours += hours;
        double needL = MOST_DEVIATIONS * deviationL;
        boolean full = Math.max(rateLPerH, 1e-3) * blockHours * Math.sqrt(rows) >= needL || rows >= LONGEST_BLOCK;
        if (full) {
            block(endS, sum / rows, blockHours, deviationL / Math.sqrt(rows));
            rows = 0;
            sum = 0;
            blockHours = 0;
        }
    }

    private void block(long endS, double mean, double hours, double deviationL) {
        if (hasLast) {
            double fallenL = lastMean - mean;
            double expectedL = LEAST_SHARE * rateLPerH * hours;
            // neighbouring blocks share an end, so falls are negatively correlated: the test errs on the careful side
            Decision decision = goesOn.accept(fallenL, 0, expectedL, Math.sqrt(2) * deviationL);
            if (decision == Decision.NULL) {
                stoppedS = stopped ? stoppedS : endS;
                stopped = true;
                goesOn.reset();
            } else if (decision == Decision.ALTERNATIVE) {
                stopped = false;
                rateLPerH += 0.3 * (fallenL / hours - rateLPerH);
                rateUncertaintyLPerH = Math.max(Math.sqrt(2) * deviationL / hours, 0.03 * rateLPerH);
                goesOn.reset();
            }
        }
        lastMean = mean;
        hasLast = true;
    }
}
