package io.loopwarden.virtual.plant;

/**
 * Filters in parallel, each with its own branch fittings: a loaded filter sheds flow to the others, and only the part of the
 * branch's differential pressure that falls over the element is measured. Element after Darcy–Forchheimer: Δp = K(a·μ·q + b·ρ·q²).
 */
final class FilterBank {

    private static final double VISCOUS_SHARE = 0.4;
    private static final double REFERENCE_VISCOSITY = 0.65e-3;
    private static final double REFERENCE_DENSITY = 992;

    private final double viscous;
    private final double inertial;
    private final double fittings;
    private final double[] flows;
    private double dpPa;

    /**
     * @param bankFlowM3PerS rated flow of all filters together
     * @param elementDpPa of a clean element at rated flow, water of 40 °C
     * @param fittingsDpPa of a branch's fittings at rated flow
     */
    FilterBank(int filters, double bankFlowM3PerS, double elementDpPa, double fittingsDpPa) {
        double q = bankFlowM3PerS / filters;
        this.viscous = VISCOUS_SHARE * elementDpPa / (REFERENCE_VISCOSITY * q);
        this.inertial = (1 - VISCOUS_SHARE) * elementDpPa / (REFERENCE_DENSITY * q * q);
        this.fittings = fittingsDpPa / (REFERENCE_DENSITY * q * q);
        this.flows = new double[filters];
        this.dpPa = elementDpPa + fittingsDpPa;
    }

    /** Differential pressure over the bank at that flow; Newton's method from the last solution. */
    double solve(double flowM3PerS, double[] loading, double viscosity, double density) {
        double dp = Math.max(dpPa, 1);
        for (int iteration = 0; iteration < 8; iteration++) {
            double total = 0;
            double slope = 0;
            for (int i = 0; i < flows.length; i++) {
                double a = loading[i] * viscous * viscosity;
                double b = (loading[i] * inertial + fittings) * density;
                double root = Math.sqrt(a * a + 4 * b * dp);
                flows[i] = (root - a) / (2 * b);
                total += flows[i];
                slope += 1 / root;
            }
            double step = (flowM3PerS - total) / slope;
            dp = Math.max(dp + step, dp * 0.1);
            if (Math.abs(step) < 1e-6 * dp + 1e-6) {
                break;
            }
        }
        dpPa = dp;
        return dp;
    }

    double elementDpPa(int filter, double[] loading, double viscosity, double density) {
        double q = flows[filter];
        return loading[filter] * (viscous * viscosity * q + inertial * density * q * q);
    }
}
