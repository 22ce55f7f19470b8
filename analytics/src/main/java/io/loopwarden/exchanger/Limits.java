package io.loopwarden.exchanger;

/** Quotients of the form 0/0 at the origin, written so that they stay exact on the way there. */
final class Limits {

    private Limits() {}

    /** (1 - exp(-x)) / x, which is 1 at x = 0. */
    static double exponentialMean(double x) {
        return x == 0 ? 1 : -Math.expm1(-x) / x;
    }

    /** ln(1 + x) / x, which is 1 at x = 0. */
    static double logarithmicMean(double x) {
        return x == 0 ? 1 : Math.log1p(x) / x;
    }
}
