package io.loopwarden.hydraulics;

/**
 * A resistance to flow with a viscous and an inertial part, Δp = a·μ·Q + b·ρ·Q² (Darcy–Forchheimer; for packed beds Ergun 1952).
 *
 * @param viscousPerM3 a, 1/m3
 * @param inertialPerM4 b, 1/m4
 */
public record Resistance(double viscousPerM3, double inertialPerM4) {

    public Resistance {
        boolean some = viscousPerM3 >= 0 && inertialPerM4 >= 0 && viscousPerM3 + inertialPerM4 > 0;
        if (!some || Double.isInfinite(viscousPerM3 + inertialPerM4)) {
            throw new IllegalArgumentException("resistance has a = " + viscousPerM3 + " 1/m3 and b = " + inertialPerM4
                    + " 1/m4; both must be finite and >= 0, one of them > 0");
        }
    }

    /**
     * The resistance that takes up a differential pressure in a reference state.
     *
     * @param viscousShareRatio share of that pressure that is viscous, 0 to 1
     */
    public static Resistance through(
            double dpPa, double viscousShareRatio, double flowM3PerS, double viscosityPaS, double densityKgPerM3) {
        return new Resistance(
                viscousShareRatio * dpPa / (viscosityPaS * flowM3PerS),
                (1 - viscousShareRatio) * dpPa / (densityKgPerM3 * flowM3PerS * flowM3PerS));
    }

    public double dpPa(double flowM3PerS, double viscosityPaS, double densityKgPerM3) {
        return viscousPerM3 * viscosityPaS * flowM3PerS + inertialPerM4 * densityKgPerM3 * flowM3PerS * flowM3PerS;
    }

    /** Flow at a differential pressure: the positive root of the quadratic, written so that neither part may vanish. */
    public double flowM3PerS(double dpPa, double viscosityPaS, double densityKgPerM3) {
        double a = viscousPerM3 * viscosityPaS;
        double b = inertialPerM4 * densityKgPerM3;
        return 2 * dpPa / (a + Math.sqrt(a * a + 4 * b * dpPa));
    }

    /** K: a measured differential pressure over that of this, clean, resistance in the same state. */
    public double ratio(double measuredPa, double flowM3PerS, double viscosityPaS, double densityKgPerM3) {
        return measuredPa / dpPa(flowM3PerS, viscosityPaS, densityKgPerM3);
    }

    /** The same resistance loaded: both parts grow alike. */
    public Resistance times(double ratio) {
        return new Resistance(ratio * viscousPerM3, ratio * inertialPerM4);
    }
}
