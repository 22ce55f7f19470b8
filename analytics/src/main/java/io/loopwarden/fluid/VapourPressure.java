package io.loopwarden.fluid;

/** Pressure at which water boils; an upper bound for mixtures with glycol. */
public final class VapourPressure {

    private VapourPressure() {}

    /** Magnus form with the coefficients of the WMO Guide to Instruments (WMO-No. 8, annex 4.B); within 0.3 % up to 60 °C. */
    public static double waterPa(double temperatureC) {
        return 611.2 * Math.exp(17.62 * temperatureC / (243.12 + temperatureC));
    }
}
