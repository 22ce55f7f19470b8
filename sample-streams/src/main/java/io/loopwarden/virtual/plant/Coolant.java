package io.loopwarden.virtual.plant;

import io.loopwarden.fleet.CoolantSpec;

/**
 * Properties of a loop's fluid as the virtual plant has them. Short fits of our own; temperatures in °C, 5 to 70.
 *
 * <p>Water: density after McCutcheon, Martin and Barnwell (Handbook of Hydrology, 1993, eq. 11.3); viscosity in the Vogel form
 * with the customary constants 2.414e-5 Pa·s, 247.8 K, 140 K; heat capacity and conductivity are parabolas through the IAPWS
 * values at 20, 40 and 60 °C. Propylene glycol: differences to water by mass fraction, fitted to the ASHRAE Handbook tables of
 * 20 and 30 % by volume; against them density is within 0.2 %, heat capacity 0.6 %, viscosity 6 %, conductivity 2 % (20–60 °C).
 */
public final class Coolant {

    private final double glycol;

    public Coolant(CoolantSpec spec) {
        this.glycol = spec.glycolMassFraction();
    }

    public double densityKgPerM3(double t) {
        double d = t - 3.9863;
        double water = 1000 * (1 - (t + 288.9414) / (508929.2 * (t + 68.12963)) * d * d);
        return water + glycol * (109.5 - 0.575 * t);
    }

    public double heatCapacityJPerKgK(double t) {
        double d = t - 38;
        return 4178 + 0.0125 * d * d - glycol * (1257 - 10.05 * t + 1000 * (glycol - 0.25));
    }

    public double viscosityPaS(double t) {
        double water = 2.414e-5 * Math.exp(Math.log(10) * 247.8 / (t + 133.15));
        return glycol == 0 ? water : water * Math.exp(glycol * 2.92 * Math.exp(-0.0084 * (t - 40)));
    }

    public double conductivityWPerMK(double t) {
        return (0.5596 + 2.125e-3 * t - 1e-5 * t * t) * (1 - 0.88 * glycol);
    }

    /** Heat capacity of a volume, J/(m3 K). */
    public double volumetricHeatJPerM3K(double t) {
        return densityKgPerM3(t) * heatCapacityJPerKgK(t);
    }
}
