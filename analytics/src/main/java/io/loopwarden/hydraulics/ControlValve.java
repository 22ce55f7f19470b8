package io.loopwarden.hydraulics;

/** A control valve in series with fixed resistances (terms of IEC 60534). */
public final class ControlValve {

    private static final double PA_PER_BAR = 1e5;
    private static final double REFERENCE_DENSITY = 1000;

    private ControlValve() {}

    /** Authority N: the open valve's share of the differential pressure over the circuit. */
    public static double authorityRatio(double openValvePa, double restPa) {
        return openValvePa / (openValvePa + restPa);
    }

    /** Relative flow coefficient of an equal-percentage valve, R^(x−1). */
    public static double equalPercentage(double rangeability, double position) {
        return Math.pow(rangeability, position - 1);
    }

    /** Flow over flow with the valve open, 1/√(1 − N + N/φ²). */
    public static double installedFlowRatio(double inherentRatio, double authorityRatio) {
        return 1 / Math.sqrt(1 - authorityRatio + authorityRatio / (inherentRatio * inherentRatio));
    }

    /** @param kv flow coefficient: m3/h at 1 bar with a density of 1000 kg/m3 */
    public static double flowM3PerH(double kv, double dpPa, double densityKgPerM3) {
        return kv * Math.sqrt(dpPa / PA_PER_BAR * REFERENCE_DENSITY / densityKgPerM3);
    }
}
