package io.loopwarden.hydraulics;

/**
 * A centrifugal pump's differential pressure over flow, Δp = Δp₀·s² − c·Q² at relative speed s.
 *
 * @param shutOffPa Δp₀, without flow at full speed
 * @param curvaturePaS2PerM6 c
 */
public record PumpCurve(double shutOffPa, double curvaturePaS2PerM6) {

    public PumpCurve {
        boolean falls = shutOffPa > 0 && curvaturePaS2PerM6 > 0;
        if (!falls || Double.isInfinite(shutOffPa + curvaturePaS2PerM6)) {
            throw new IllegalArgumentException("pump curve with " + shutOffPa + " Pa at no flow and curvature "
                    + curvaturePaS2PerM6 + " Pa s2/m6; both must be finite and > 0");
        }
    }

    /**
     * The curve through one observed point.
     *
     * @param shutOffRatio pressure without flow over pressure at rated flow, above 1: the curve's shape
     */
    public static PumpCurve through(
            double dpPa, double flowM3PerS, double speedRatio, double shutOffRatio, double ratedFlowM3PerS) {
        double x = Affinity.flow(flowM3PerS, 1 / speedRatio) / ratedFlowM3PerS;
        double ratedPa = Affinity.pressure(dpPa, 1 / speedRatio) / (shutOffRatio - (shutOffRatio - 1) * x * x);
        return new PumpCurve(
                shutOffRatio * ratedPa, (shutOffRatio - 1) * ratedPa / (ratedFlowM3PerS * ratedFlowM3PerS));
    }

    public double dpPa(double speedRatio, double flowM3PerS) {
        return Affinity.pressure(shutOffPa, speedRatio) - curvaturePaS2PerM6 * flowM3PerS * flowM3PerS;
    }

    /** Flow at a differential pressure: the pump as a flow meter; 0 above shut-off. Ill-conditioned near shut-off. */
    public double flowM3PerS(double speedRatio, double dpPa) {
        return Math.sqrt(Math.max(0, Affinity.pressure(shutOffPa, speedRatio) - dpPa) / curvaturePaS2PerM6);
    }

    /**
     * Flow where the pump meets a system Δp = static + R·Q²; 0 where it cannot lift the static part.
     *
     * @param resistancePaS2PerM6 R
     */
    public double operatingFlowM3PerS(double speedRatio, double staticPa, double resistancePaS2PerM6) {
        double lift = Math.max(0, Affinity.pressure(shutOffPa, speedRatio) - staticPa);
        return Math.sqrt(lift / (curvaturePaS2PerM6 + resistancePaS2PerM6));
    }
}
