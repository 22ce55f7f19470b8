package io.loopwarden.exchanger;

/** Effectiveness of arrangements the product does not have, for the published examples that use them. */
final class OtherArrangements {

    private OtherArrangements() {}

    static double parallel(double ntu, double capacityRatio) {
        return -Math.expm1(-ntu * (1 + capacityRatio)) / (1 + capacityRatio);
    }

    /** One shell pass, an even number of tube passes. */
    static double shellAndTube(double ntu, double capacityRatio) {
        double g = Math.sqrt(1 + capacityRatio * capacityRatio);
        double e = Math.exp(-ntu * g);
        return 2 / (1 + capacityRatio + g * (1 + e) / (1 - e));
    }

    /** Cross-flow with the larger capacity rate mixed. */
    static double crossFlowLargerMixed(double ntu, double capacityRatio) {
        return -Math.expm1(capacityRatio * Math.expm1(-ntu)) / capacityRatio;
    }
}
