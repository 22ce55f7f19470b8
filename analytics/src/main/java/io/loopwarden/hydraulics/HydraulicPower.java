package io.loopwarden.hydraulics;

/** What a pump puts into the coolant. */
public final class HydraulicPower {

    /** Standard acceleration of free fall, m/s2 (CGPM 1901). */
    private static final double STANDARD_GRAVITY = 9.80665;

    private HydraulicPower() {}

    /** Δp·Q. */
    public static double watts(double dpPa, double flowM3PerS) {
        return dpPa * flowM3PerS;
    }

    public static double headM(double dpPa, double densityKgPerM3) {
        return dpPa / (densityKgPerM3 * STANDARD_GRAVITY);
    }

    public static double dpPa(double headM, double densityKgPerM3) {
        return headM * densityKgPerM3 * STANDARD_GRAVITY;
    }

    /** Hydraulic power over power taken up: from the mains it is wire-to-water efficiency, at the coupling the pump's own. */
    public static double efficiencyRatio(double dpPa, double flowM3PerS, double powerW) {
        return watts(dpPa, flowM3PerS) / powerW;
    }
}
