package io.loopwarden.indicator;

import static io.loopwarden.fleet.Points.FWS_RETURN_TEMPERATURE;
import static io.loopwarden.fleet.Points.FWS_SUPPLY_TEMPERATURE;
import static io.loopwarden.fleet.Points.TCS_RETURN_TEMPERATURE;
import static io.loopwarden.fleet.Points.TCS_SUPPLY_TEMPERATURE;

import io.loopwarden.fleet.PointName;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;

/** The four temperatures around the exchanger, in an order that a counterflow exchanger allows. */
record Temperatures(Estimate tcsReturn, Estimate tcsSupply, Estimate fwsSupply, Estimate fwsReturn) {

    static Computed<Temperatures> of(Means means) {
        return means.of(TCS_RETURN_TEMPERATURE)
                .flatMap(tcsReturn -> means.of(TCS_SUPPLY_TEMPERATURE)
                        .flatMap(tcsSupply -> means.of(FWS_SUPPLY_TEMPERATURE)
                                .flatMap(fwsSupply -> means.of(FWS_RETURN_TEMPERATURE)
                                        .flatMap(fwsReturn -> new Temperatures(
                                                        tcsReturn, tcsSupply, fwsSupply, fwsReturn)
                                                .inOrder()))));
    }

    private Computed<Temperatures> inOrder() {
        return inOrder(TCS_RETURN_TEMPERATURE, tcsReturn, TCS_SUPPLY_TEMPERATURE, tcsSupply)
                .flatMap(t -> inOrder(FWS_RETURN_TEMPERATURE, fwsReturn, FWS_SUPPLY_TEMPERATURE, fwsSupply))
                .flatMap(t -> inOrder(TCS_SUPPLY_TEMPERATURE, tcsSupply, FWS_SUPPLY_TEMPERATURE, fwsSupply))
                .flatMap(t -> inOrder(TCS_RETURN_TEMPERATURE, tcsReturn, FWS_RETURN_TEMPERATURE, fwsReturn));
    }

    private Computed<Temperatures> inOrder(PointName warmer, Estimate w, PointName cooler, Estimate c) {
        return differenceK(warmer, w, cooler, c)
                .flatMap(gap -> gap.value() > 0
                        ? Computed.of(this)
                        : Computed.unavailable(
                                Reason.NOT_OBSERVABLE,
                                "The load is too low: " + warmer + " and " + cooler + " differ by "
                                        + Words.fixed(gap.value(), 2) + " K, which the sensors know to ± "
                                        + Words.fixed(Estimate.K95 * gap.standardUncertainty(), 2) + " K."));
    }

    /** Beyond this many standard uncertainties on the wrong side of zero, a difference is not noise. */
    private static final double CONTRADICTION = 3;

    /** No loop of liquid coolant is outside; a wider range than that of the fluid properties. */
    private static final int LEAST_C = -50;

    private static final int MOST_C = 200;
    private static final double MOST_UNCERTAIN_K = 100;

    private static boolean possible(Estimate temperature) {
        return temperature.value() >= LEAST_C
                && temperature.value() <= MOST_C
                && temperature.standardUncertainty() <= MOST_UNCERTAIN_K;
    }

    /** What {@code w} is warmer than {@code c}; may be just below zero by error, and a contradiction beyond that. */
    static Computed<Estimate> differenceK(PointName warmer, Estimate w, PointName cooler, Estimate c) {
        if (!possible(w) || !possible(c)) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    warmer + " is " + Words.fixed(w.value(), 1) + " °C and " + cooler + " "
                            + Words.fixed(c.value(), 1) + " °C, not both between " + LEAST_C + " and " + MOST_C
                            + " °C: check the unit of measure.");
        }
        double differenceK = w.value() - c.value();
        double u = Math.hypot(w.standardUncertainty(), c.standardUncertainty());
        if (differenceK < -CONTRADICTION * u) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    warmer + " (" + Words.fixed(w.value(), 1) + " °C) is below " + cooler + " ("
                            + Words.fixed(c.value(), 1)
                            + " °C), a temperature cross: the two look swapped, or one is wrong.");
        }
        return Computed.of(new Estimate(differenceK, u));
    }
}
