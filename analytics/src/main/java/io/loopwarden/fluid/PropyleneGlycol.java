package io.loopwarden.fluid;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/**
 * Propylene glycol in water (Melinder, <i>Properties of Secondary Working Fluids for Indirect Systems</i>, IIF/IIR 2010;
 * coefficients as carried alike by two open property libraries).
 *
 * <p>Errors as limits: density ±0.3 %, specific heat ±1.5 %, viscosity ±8 %, conductivity ±3 %. They cover the distance
 * to the ASHRAE handbook's tables (0.3 to 0.4 % in density times specific heat at 25 % by volume). The book's tables
 * end at 40 °C and span 15 to 57 % by mass: above 40 °C the limits grow in proportion, to twice as much at 90 °C, and
 * outside the tabulated concentrations they are half as large again. Inhibitors are not covered.
 */
final class PropyleneGlycol {

    private static final double MID_MASS_PERCENT = 30.7031;
    private static final double MID_TEMPERATURE_C = 32.7083;
    private static final double TABULATED_TO_C = 40;
    private static final double MOST_C = 90;
    private static final double TABULATED_FROM_FRACTION = 0.15;
    private static final double TABULATED_TO_FRACTION = 0.57;
    static final PropertyUncertainty UNCERTAINTY = PropertyUncertainty.ofLimits(0.003, 0.015, 0.08, 0.03);

    private static final Map<Double, Coolant> KNOWN = new ConcurrentHashMap<>();

    // Tables: one row per power of (mass percent - mid), one column per power of (temperature - mid).

    /** Freezing point, °C; the terms with temperature do not enter. */
    private static final double[] FREEZING_C = {-13.25, -0.6631, -0.01094, -0.0002283, -3.409e-06, 1.465e-08};

    /** Density, kg/m3. */
    private static final double[][] DENSITY = {
        {1018, -0.5406, -0.002666, 1.347e-05},
        {0.7604, -0.00945, 5.541e-05, -1.343e-07},
        {-0.002498, 2.7e-05, -4.018e-07, 3.376e-09},
        {-0.000155, 2.829e-06, -7.175e-09},
        {-1.131e-06, -2.221e-08},
        {2.342e-08}
    };

    /** Specific heat, J/(kg K). */
    private static final double[][] SPECIFIC_HEAT = {
        {3882, 2.699, -0.001659, -1.032e-05},
        {-13.04, 0.0507, -4.752e-05, 1.522e-06},
        {-0.1598, 9.534e-05, 1.167e-05, -4.87e-08},
        {0.0003539, 3.102e-05, -2.95e-07},
        {5e-05, -7.135e-07},
        {-4.959e-07}
    };

    /** Conductivity, W/(m K). */
    private static final double[][] CONDUCTIVITY = {
        {0.4513, 0.0007955, 3.482e-08, -5.966e-09},
        {-0.004795, -1.678e-05, 8.941e-08, 1.493e-10},
        {2.076e-05, 1.563e-07, -4.615e-09, 9.897e-12},
        {-9.083e-08, -2.518e-09, 6.543e-11},
        {-5.952e-10, -3.605e-11},
        {2.104e-11}
    };

    /** Natural logarithm of viscosity in mPa s. */
    private static final double[][] LN_VISCOSITY = {
        {0.6837, -0.03045, 0.0002525, -1.399e-06},
        {0.03328, -0.0003984, 4.332e-06, -1.86e-08},
        {5.453e-05, -8.6e-08, -1.593e-08, -4.465e-11},
        {-3.9e-06, 1.054e-07, -1.589e-09},
        {-1.587e-08, 4.475e-10},
        {3.564e-09}
    };

    private PropyleneGlycol() {}

    /** One table for all units of a mixture. */
    static Coolant coolant(double massFraction) {
        return KNOWN.computeIfAbsent(massFraction, PropyleneGlycol::tabulated);
    }

    private static Coolant tabulated(double massFraction) {
        return new TabulatedCoolant(
                freezingPointC(massFraction),
                MOST_C,
                "propylene glycol " + 100 * massFraction + " % by mass by Melinder 2010",
                t -> state(massFraction, t),
                t -> enthalpyJPerKg(massFraction, t),
                t -> uncertainty(massFraction, t));
    }

    static FluidState state(double massFraction, double temperatureC) {
        double t = temperatureC - MID_TEMPERATURE_C;
        double[] density = inTemperature(DENSITY, massFraction);
        double densityKgPerM3 = value(density, t);
        return new FluidState(
                temperatureC,
                densityKgPerM3,
                value(inTemperature(SPECIFIC_HEAT, massFraction), t),
                1e-3 * StrictMath.exp(value(inTemperature(LN_VISCOSITY, massFraction), t)),
                value(inTemperature(CONDUCTIVITY, massFraction), t),
                -slope(density, t) / densityKgPerM3);
    }

    /** Integral of the specific heat, zero at the middle temperature of the fit. */
    static double enthalpyJPerKg(double massFraction, double temperatureC) {
        double t = temperatureC - MID_TEMPERATURE_C;
        double[] c = inTemperature(SPECIFIC_HEAT, massFraction);
        return t * (c[0] + t * (c[1] / 2 + t * (c[2] / 3 + t * c[3] / 4)));
    }

    static double freezingPointC(double massFraction) {
        return value(FREEZING_C, 100 * massFraction - MID_MASS_PERCENT);
    }

    private static PropertyUncertainty uncertainty(double massFraction, double temperatureC) {
        double hotter = Math.max(0, temperatureC - TABULATED_TO_C) / (MOST_C - TABULATED_TO_C);
        boolean tabulated = massFraction >= TABULATED_FROM_FRACTION && massFraction <= TABULATED_TO_FRACTION;
        return UNCERTAINTY.widenedBy((1 + hotter) * (tabulated ? 1 : 1.5));
    }

    /** Coefficients of the polynomial in temperature at one concentration. */
    private static double[] inTemperature(double[][] table, double massFraction) {
        double x = 100 * massFraction - MID_MASS_PERCENT;
        double[] sum = new double[4];
        double power = 1;
        for (double[] row : table) {
            for (int j = 0; j < row.length; j++) {
                sum[j] += row[j] * power;
            }
            power *= x;
        }
        return sum;
    }

    private static double value(double[] c, double x) {
        double sum = 0;
        for (int i = c.length - 1; i >= 0; i--) {
            sum = sum * x + c[i];
        }
        return sum;
    }

    private static double slope(double[] c, double x) {
        return c[1] + x * (2 * c[2] + x * 3 * c[3]);
    }
}
