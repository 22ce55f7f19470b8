package io.loopwarden.fluid;

/**
 * Viscosity and thermal conductivity of water as functions of temperature and density, without the critical
 * enhancements, which are nil in cold liquid (IAPWS R12-08 with mu2 = 1; IAPWS R15-11 with lambda2 = 0).
 */
final class IapwsTransport {

    private static final double REFERENCE_TEMPERATURE_K = 647.096;
    private static final double REFERENCE_DENSITY_KG_PER_M3 = 322;

    /** R12-08 table 1. */
    private static final double[] VISCOSITY_DILUTE = {1.67752, 2.20462, 0.6366564, -0.241605};

    /** R12-08 table 2, one row per power of 1/T - 1, one column per power of density - 1. */
    private static final double[][] VISCOSITY_DENSE = {
        {5.20094e-1, 2.22531e-1, -2.81378e-1, 1.61913e-1, -3.25372e-2, 0, 0},
        {8.50895e-2, 9.99115e-1, -9.06851e-1, 2.57399e-1, 0, 0, 0},
        {-1.08374, 1.88797, -7.72479e-1, 0, 0, 0, 0},
        {-2.89555e-1, 1.26613, -4.89837e-1, 0, 6.98452e-2, 0, -4.35673e-3},
        {0, 0, -2.57040e-1, 0, 0, 8.72102e-3, 0},
        {0, 1.20573e-1, 0, 0, 0, 0, -5.93264e-4}
    };

    /** R15-11 table 1. */
    private static final double[] CONDUCTIVITY_DILUTE = {
        2.443221e-3, 1.323095e-2, 6.770357e-3, -3.454586e-3, 4.096266e-4
    };

    /** R15-11 table 2, arranged as {@link #VISCOSITY_DENSE}. */
    private static final double[][] CONDUCTIVITY_DENSE = {
        {1.60397357, -0.646013523, 0.111443906, 0.102997357, -0.0504123634, 0.00609859258},
        {2.33771842, -2.78843778, 1.53616167, -0.463045512, 0.0832827019, -0.00719201245},
        {2.19650529, -4.54580785, 3.55777244, -1.40944978, 0.275418278, -0.0205938816},
        {-1.21051378, 1.60812989, -0.621178141, 0.0716373224, 0, 0},
        {-2.7203370, 4.57586331, -3.18369245, 1.1168348, -0.19268305, 0.012913842}
    };

    private IapwsTransport() {}

    static double viscosityPaS(double temperatureK, double densityKgPerM3) {
        double t = temperatureK / REFERENCE_TEMPERATURE_K;
        double dilute = 100 * Math.sqrt(t) / polynomial(VISCOSITY_DILUTE, 1 / t);
        return 1e-6 * dilute * dense(VISCOSITY_DENSE, t, densityKgPerM3);
    }

    static double conductivityWPerMK(double temperatureK, double densityKgPerM3) {
        double t = temperatureK / REFERENCE_TEMPERATURE_K;
        double dilute = Math.sqrt(t) / polynomial(CONDUCTIVITY_DILUTE, 1 / t);
        return 1e-3 * dilute * dense(CONDUCTIVITY_DENSE, t, densityKgPerM3);
    }

    private static double dense(double[][] rows, double t, double densityKgPerM3) {
        double rho = densityKgPerM3 / REFERENCE_DENSITY_KG_PER_M3;
        double[] byTemperature = new double[rows.length];
        for (int i = 0; i < rows.length; i++) {
            byTemperature[i] = polynomial(rows[i], rho - 1);
        }
        return StrictMath.exp(rho * polynomial(byTemperature, 1 / t - 1));
    }

    private static double polynomial(double[] coefficients, double x) {
        double sum = 0;
        for (int i = coefficients.length - 1; i >= 0; i--) {
            sum = sum * x + coefficients[i];
        }
        return sum;
    }
}
