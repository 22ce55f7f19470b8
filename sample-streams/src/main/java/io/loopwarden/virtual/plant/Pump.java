package io.loopwarden.virtual.plant;

/**
 * A variable-speed centrifugal pump: a parabola at full speed, carried to other speeds by the affinity laws (Q ∝ n, Δp ∝ n²).
 *
 * @param ratedFlowM3PerS flow at the best efficiency point, full speed
 * @param ratedDpPa differential pressure there
 */
public record Pump(double ratedFlowM3PerS, double ratedDpPa) {

    private static final double SHUT_OFF_RATIO = 1.3;
    private static final double BEST_EFFICIENCY = 0.76;
    private static final double DRIVE_EFFICIENCY = 0.9;
    private static final double IDLE_W = 150;

    /** Differential pressure at no flow; wear (0 to 1) takes its share of the head. */
    public double shutOffDpPa(double speed, double wear) {
        return SHUT_OFF_RATIO * ratedDpPa * speed * speed * (1 - wear);
    }

    /** The curve is {@code shutOffDp − curvature · Q²}. */
    public double curvaturePaS2PerM6() {
        return (SHUT_OFF_RATIO - 1) * ratedDpPa / (ratedFlowM3PerS * ratedFlowM3PerS);
    }

    public double dpPa(double speed, double flowM3PerS, double wear) {
        return shutOffDpPa(speed, wear) - curvaturePaS2PerM6() * flowM3PerS * flowM3PerS;
    }

    /** Power at the coupling; all of it ends as heat in the coolant or as work on the racks. */
    public double shaftPowerW(double speed, double flowM3PerS, double wear) {
        if (speed < 0.02) {
            return 0;
        }
        double off = flowM3PerS / speed / ratedFlowM3PerS - 1;
        double efficiency = Math.max(0.05, BEST_EFFICIENCY * (1 - 0.85 * off * off) * (1 - 0.7 * wear));
        return Math.max(0, dpPa(speed, flowM3PerS, wear)) * flowM3PerS / efficiency;
    }

    /** Power from the mains, drive losses included. */
    public double electricPowerW(double speed, double flowM3PerS, double wear) {
        return speed < 0.02 ? 0 : shaftPowerW(speed, flowM3PerS, wear) / DRIVE_EFFICIENCY + IDLE_W;
    }
}
