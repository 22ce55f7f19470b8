package io.loopwarden.hydraulics;

/**
 * Affinity laws: one impeller and fluid at another speed gives Q ∝ n, Δp ∝ n², P ∝ n³ (Karassik et al., Pump Handbook). In a closed
 * loop without static head the operating point follows them too.
 */
public final class Affinity {

    private Affinity() {}

    public static double flow(double flow, double speedRatio) {
        return flow * speedRatio;
    }

    public static double pressure(double pressure, double speedRatio) {
        return pressure * speedRatio * speedRatio;
    }

    public static double power(double power, double speedRatio) {
        return power * speedRatio * speedRatio * speedRatio;
    }
}
