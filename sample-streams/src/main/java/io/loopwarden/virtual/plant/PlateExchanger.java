package io.loopwarden.virtual.plant;

import java.util.Arrays;

/**
 * One plate exchanger in counterflow, cut into cells along the flow. Each cell keeps its own energy balance over both fluids, each
 * with half of the plates' heat capacity; all cells are solved together, implicit in time, so any step is stable and energy closes
 * to rounding. A step without storage gives the steady state.
 */
final class PlateExchanger {

    private static final int CELLS = 12;
    private static final double PLATE_CAPACITY_J_PER_M2K = 0.0005 * 7900 * 500 / 2;
    private static final double CHANNEL_GAP_M = 0.0025;

    private final double areaM2;
    private final double[] hot = new double[CELLS];
    private final double[] cold = new double[CELLS];
    // Elimination, cell by cell: hot outlet = p + r · cold inlet, cold outlet = s + t · cold inlet.
    private final double[] p = new double[CELLS];
    private final double[] r = new double[CELLS];
    private final double[] s = new double[CELLS];
    private final double[] t = new double[CELLS];
    private final double[] hotFace = new double[CELLS + 1];
    private final double[] coldFace = new double[CELLS + 1];

    PlateExchanger(double areaM2, double temperatureC) {
        this.areaM2 = areaM2;
        Arrays.fill(hot, temperatureC);
        Arrays.fill(cold, temperatureC);
    }

    double areaM2() {
        return areaM2;
    }

    /**
     * Solves one step without keeping it; {@link #keep()} makes it the new state.
     *
     * @param hotCapacityW capacity rate ρ·Q·cp of the hot side, W/K
     * @param uWPerM2K overall coefficient in the middle of the plate
     * @param uSlope relative growth of the coefficient from the middle to the hot end (viscosity falls)
     * @param dtS length of the step; infinite for the steady state
     */
    void solve(
            double hotInC,
            double coldInC,
            double hotCapacityW,
            double coldCapacityW,
            double hotHeatJPerM3K,
            double coldHeatJPerM3K,
            double uWPerM2K,
            double uSlope,
            double dtS) {
        double cellArea = areaM2 / CELLS;
        double volume = cellArea * CHANNEL_GAP_M / 2;
        double hotStore = (volume * hotHeatJPerM3K + cellArea * PLATE_CAPACITY_J_PER_M2K) / dtS;
        double coldStore = (volume * coldHeatJPerM3K + cellArea * PLATE_CAPACITY_J_PER_M2K) / dtS;
        double pIn = hotInC;
        double rIn = 0;
        for (int k = 0; k < CELLS; k++) {
            double g = 0.5 * uWPerM2K * cellArea * (1 + uSlope * (1 - (2.0 * k + 1) / CELLS));
            double a1 = hotCapacityW + 0.5 * hotStore + g;
            double b1 = hotCapacityW - 0.5 * hotStore - g;
            double a2 = coldCapacityW + 0.5 * coldStore + g;
            double b2 = coldCapacityW - 0.5 * coldStore - g;
            double d = a2 - g * rIn;
            double e = (g + b1 * rIn) / d;
            double f = pIn * g + coldStore * cold[k];
            double w = a1 - e * g;
            p[k] = (b1 * pIn + hotStore * hot[k] + e * f) / w;
            r[k] = (g + e * b2) / w;
            s[k] = (p[k] * g + f) / d;
            t[k] = (r[k] * g + b2) / d;
            pIn = p[k];
            rIn = r[k];
        }
        coldFace[CELLS] = coldInC;
        hotFace[0] = hotInC;
        for (int k = CELLS - 1; k >= 0; k--) {
            hotFace[k + 1] = p[k] + r[k] * coldFace[k + 1];
            coldFace[k] = s[k] + t[k] * coldFace[k + 1];
        }
    }

    double hotOutC() {
        return hotFace[CELLS];
    }

    double coldOutC() {
        return coldFace[0];
    }

    void keep() {
        for (int k = 0; k < CELLS; k++) {
            hot[k] = 0.5 * (hotFace[k] + hotFace[k + 1]);
            cold[k] = 0.5 * (coldFace[k] + coldFace[k + 1]);
        }
    }

    /** Heat held by both sides relative to 0 °C, for the energy balance. */
    double storedJ(double hotHeatJPerM3K, double coldHeatJPerM3K) {
        double cellArea = areaM2 / CELLS;
        double volume = cellArea * CHANNEL_GAP_M / 2;
        double plate = cellArea * PLATE_CAPACITY_J_PER_M2K;
        double sum = 0;
        for (int k = 0; k < CELLS; k++) {
            sum += hot[k] * (volume * hotHeatJPerM3K + plate) + cold[k] * (volume * coldHeatJPerM3K + plate);
        }
        return sum;
    }

    double hotMeanC() {
        return 0.5 * (hot[0] + hot[CELLS - 1]);
    }

    double coldMeanC() {
        return 0.5 * (cold[0] + cold[CELLS - 1]);
    }
}
