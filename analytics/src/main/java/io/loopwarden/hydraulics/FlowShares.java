package io.loopwarden.hydraulics;

import io.loopwarden.hydraulics.LoopReading.BranchFlow;

/**
 * How parallel filters share a flow when only their elements' differential pressures are measured: every branch is an element and
 * fittings in series, and over all branches lies one differential pressure, Δp_i + F·w·x_i² = D with Σ x_i = n.
 */
final class FlowShares {

    private static final int ITERATIONS = 12;
    private static final double CLOSE = 1e-9;

    private FlowShares() {}

    /**
     * Share of each branch, 1 is even.
     *
     * @param elementPa differential pressure of each element
     * @param fittingsPa F, of a branch's fittings at an even share in the reference state
     */
    static double[] of(double[] elementPa, double fittingsPa, BranchFlow flow) {
        int n = elementPa.length;
        double f = fittingsPa * flow.inertialRatio();
        double most = 0;
        double sum = 0;
        for (double dp : elementPa) {
            most = Math.max(most, dp);
            sum += dp;
        }
        double[] shares = new double[n];
        double d = Math.max(most, sum / n) + f;
        for (int k = 0; k < ITERATIONS; k++) {
            double total = 0;
            double slope = 0;
            for (int i = 0; i < n; i++) {
                shares[i] = Math.sqrt(Math.max(CLOSE, d - elementPa[i]) / f);
                total += shares[i];
                slope += 1 / (2 * f * shares[i]);
            }
            double step = (n - total) / slope;
            double next = Math.max(most + CLOSE * f, d + step);
            if (Math.abs(next - d) < CLOSE * d) {
                break;
            }
            d = next;
        }
        return shares;
    }
}
