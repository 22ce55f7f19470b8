package io.loopwarden.exchanger;

/** Approach of a counterflow exchanger, TCS supply over FWS supply temperature. */
final class Approach {

    private Approach() {}

    /** a = q (1/(ε C_min) - 1/C_h), from the definitions of effectiveness and approach. */
    static double atDutyK(double dutyW, double conductanceWPerK, double hotRateWPerK, double coldRateWPerK) {
        double smaller = Math.min(hotRateWPerK, coldRateWPerK);
        double capacityRatio = smaller / Math.max(hotRateWPerK, coldRateWPerK);
        double effectiveness = Counterflow.effectivenessRatio(conductanceWPerK / smaller, capacityRatio);
        return dutyW * (1 / (effectiveness * smaller) - 1 / hotRateWPerK);
    }

    /** da/dUA at constant duty and flows, -q/(ε C_min)² · dε/dNTU; always below 0. */
    static double perConductanceK2PerW(
            double dutyW, double conductanceWPerK, double hotRateWPerK, double coldRateWPerK) {
        double smaller = Math.min(hotRateWPerK, coldRateWPerK);
        double capacityRatio = smaller / Math.max(hotRateWPerK, coldRateWPerK);
        double ntu = conductanceWPerK / smaller;
        double moved = Counterflow.effectivenessRatio(ntu, capacityRatio) * smaller;
        return -dutyW / (moved * moved) * Counterflow.effectivenessPerNtu(ntu, capacityRatio);
    }
}
