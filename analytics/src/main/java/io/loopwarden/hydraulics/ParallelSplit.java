package io.loopwarden.hydraulics;

import java.util.List;

/** How a flow divides among parallel branches: one differential pressure over all of them. */
public final class ParallelSplit {

    private static final int ITERATIONS = 60;
    private static final double CLOSE_RATIO = 1e-12;

    private ParallelSplit() {}

    /** Differential pressure over the branches at a total flow; the sum of their flows rises with it, so halving finds it. */
    public static double dpPa(
            List<Resistance> branches, double flowM3PerS, double viscosityPaS, double densityKgPerM3) {
        double low = 0;
        double high = branches.stream()
                .mapToDouble(branch -> branch.dpPa(flowM3PerS, viscosityPaS, densityKgPerM3))
                .min()
                .orElseThrow(() -> new IllegalArgumentException("a flow of " + flowM3PerS + " m3/s has no branch"));
        for (int i = 0; i < ITERATIONS && high - low > CLOSE_RATIO * high; i++) {
            double middle = (low + high) / 2;
            double total = branches.stream()
                    .mapToDouble(branch -> branch.flowM3PerS(middle, viscosityPaS, densityKgPerM3))
                    .sum();
            if (total < flowM3PerS) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }
}
