package io.loopwarden.inventory;

import java.util.List;

/**
 * Static pressure as a second level: how far it follows the level is learnt from movements that no loss explains, then it says whether
 * coolant or only the level's reading went away. For one thread.
 */
final class PressureWitness {

    private static final double FORGETTING = 0.998;
    private static final double LEAST_PAIRS = 40;
    private static final double LEAST_CORRELATION = 0.5;
    private static final double MOST_LOG_ODDS = 6;

    private double pairs;
    private double levels;
    private double products;
    private double pressures;

    /** Takes how much level and pressure moved within half an hour of settled running. */
    void learn(double levelMovedL, double pressureMovedPa) {
        pairs = FORGETTING * pairs + 1;
        levels = FORGETTING * levels + levelMovedL * levelMovedL;
        products = FORGETTING * products + levelMovedL * pressureMovedPa;
        pressures = FORGETTING * pressures + pressureMovedPa * pressureMovedPa;
    }

    List<Double> memory() {
        return List.of(pairs, levels, products, pressures);
    }

    void restore(List<Double> remembered) {
        pairs = remembered.get(0);
        levels = remembered.get(1);
        products = remembered.get(2);
        pressures = remembered.get(3);
    }

    boolean learnt() {
        return pairs >= LEAST_PAIRS && products > LEAST_CORRELATION * Math.sqrt(levels * pressures);
    }

    double stiffnessPaPerL() {
        return products / levels;
    }

    /** Deviation of a movement of pressure from what the level's says. */
    double deviationPa() {
        double residual = (pressures - products * products / levels) / Math.max(1, pairs - 1);
        return Math.sqrt(Math.max(1, residual));
    }

    /**
     * Odds of a loss against a sensor that only shows one.
     *
     * @param levelMovedL since the suspected onset
     * @param lostL what the content says went away since
     */
    double logOdds(double levelMovedL, double lostL, double pressureMovedPa) {
        if (!learnt()) {
            return 0;
        }
        double s = deviationPa();
        double leak = (pressureMovedPa - stiffnessPaPerL() * levelMovedL) / s;
        double sensor = (pressureMovedPa - stiffnessPaPerL() * (levelMovedL + lostL)) / s;
        double ratio = 0.5 * (sensor * sensor - leak * leak);
        return Math.max(-MOST_LOG_ODDS, Math.min(MOST_LOG_ODDS, ratio));
    }
}
