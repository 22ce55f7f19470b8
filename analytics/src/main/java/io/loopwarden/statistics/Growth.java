package io.loopwarden.statistics;

import java.util.Random;

/** One form that growth may have, fitted to a series. */
interface Growth {

    /** Akaike's criterion corrected for few points (Hurvich and Tsai 1989), up to a constant that all forms share. */
    double criterion();

    /** Where the growth meets the limit in each of so many draws of everything that is not known; infinite for never. */
    double[] crossings(int draws, Random random);

    /** n ln(RSS/n) + 2p with the correction; p counts the scatter too. */
    static double criterion(double minusTwiceLogLikelihood, int points, int parameters) {
        double left = points - parameters - 1.0;
        double correction = left > 0 ? 2.0 * parameters * (parameters + 1) / left : Double.POSITIVE_INFINITY;
        return minusTwiceLogLikelihood + 2.0 * parameters + correction;
    }
}
