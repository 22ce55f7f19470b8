package io.loopwarden.fluid;

/** IAPWS-IF97 region 1, liquid water (IAPWS R7-97(2012), section 5.1, equation 7 and table 2). */
final class IapwsRegion1 {

    private static final double GAS_CONSTANT_J_PER_KG_K = 461.526;
    private static final double REFERENCE_PRESSURE_PA = 16.53e6;
    private static final double REFERENCE_TEMPERATURE_K = 1386;

    private static final int[] I = {
        0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 3, 3, 3, 4, 4, 4, 5, 8, 8, 21, 23, 29, 30, 31, 32
    };
    private static final int[] J = {
        -2, -1, 0, 1, 2, 3, 4, 5, -9, -7, -1, 0, 1, 3, -3, 0, 1, 3, 17, -4, 0, 6, -5, -2, 10, -8, -11, -6, -29, -31,
        -38, -39, -40, -41
    };
    private static final double[] N = {
        0.14632971213167,
        -0.84548187169114,
        -0.37563603672040e1,
        0.33855169168385e1,
        -0.95791963387872,
        0.15772038513228,
        -0.16616417199501e-1,
        0.81214629983568e-3,
        0.28319080123804e-3,
        -0.60706301565874e-3,
        -0.18990068218419e-1,
        -0.32529748770505e-1,
        -0.21841717175414e-1,
        -0.52838357969930e-4,
        -0.47184321073267e-3,
        -0.30001780793026e-3,
        0.47661393906987e-4,
        -0.44141845330846e-5,
        -0.72694996297594e-15,
        -0.31679644845054e-4,
        -0.28270797985312e-5,
        -0.85205128120103e-9,
        -0.22425281908000e-5,
        -0.65171222895601e-6,
        -0.14341729937924e-12,
        -0.40516996860117e-6,
        -0.12734301741641e-8,
        -0.17424871230634e-9,
        -0.68762131295531e-18,
        0.14478307828521e-19,
        0.26335781662795e-22,
        -0.11947622640071e-22,
        0.18228094581404e-23,
        -0.93537087292458e-25
    };

    private IapwsRegion1() {}

    /** One state; the expansion is (1/v)(dv/dT) at constant pressure, from the derivatives of the equation. */
    record State(
            double densityKgPerM3,
            double enthalpyJPerKg,
            double entropyJPerKgK,
            double specificHeatJPerKgK,
            double soundSpeedMPerS,
            double expansionPerK) {}

    static State at(double temperatureK, double pressurePa) {
        double pi = pressurePa / REFERENCE_PRESSURE_PA;
        double tau = REFERENCE_TEMPERATURE_K / temperatureK;
        double a = 7.1 - pi;
        double b = tau - 1.222;
        double gamma = 0;
        double gammaPi = 0;
        double gammaPiPi = 0;
        double gammaTau = 0;
        double gammaTauTau = 0;
        double gammaPiTau = 0;
        for (int k = 0; k < N.length; k++) {
            double term = N[k] * StrictMath.pow(a, I[k]) * StrictMath.pow(b, J[k]);
            gamma += term;
            gammaPi -= term * I[k] / a;
            gammaPiPi += term * I[k] * (I[k] - 1) / (a * a);
            gammaTau += term * J[k] / b;
            gammaTauTau += term * J[k] * (J[k] - 1) / (b * b);
            gammaPiTau -= term * I[k] * J[k] / (a * b);
        }
        double rt = GAS_CONSTANT_J_PER_KG_K * temperatureK;
        // table 3: relations of the properties to the dimensionless Gibbs energy
        double volumeM3PerKg = pi * gammaPi * rt / pressurePa;
        double mixed = gammaPi - tau * gammaPiTau;
        double soundSquared = rt * gammaPi * gammaPi / (mixed * mixed / (tau * tau * gammaTauTau) - gammaPiPi);
        return new State(
                1 / volumeM3PerKg,
                rt * tau * gammaTau,
                GAS_CONSTANT_J_PER_KG_K * (tau * gammaTau - gamma),
                -GAS_CONSTANT_J_PER_KG_K * tau * tau * gammaTauTau,
                Math.sqrt(soundSquared),
                (1 - tau * gammaPiTau / gammaPi) / temperatureK);
    }
}
