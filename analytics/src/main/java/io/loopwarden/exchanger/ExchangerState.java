package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import java.util.List;

/** Steady state around one exchanger; the hot side is the TCS, the cold side the FWS. */
public record ExchangerState(
        double hotFlowM3PerS,
        double coldFlowM3PerS,
        double hotInletC,
        double hotOutletC,
        double coldInletC,
        double coldOutletC) {

    /** Order of the quantities in vectors and covariances; the last two are true over tabulated heat capacity, near 1. */
    public static final List<String> QUANTITIES = List.of(
            "TCS flow",
            "FWS flow",
            "TCS return temperature",
            "TCS supply temperature",
            "FWS supply temperature",
            "FWS return temperature",
            "TCS heat capacity",
            "FWS heat capacity");

    static final int HOT_FLOW = 0;
    static final int COLD_FLOW = 1;
    static final int HOT_INLET = 2;
    static final int HOT_OUTLET = 3;
    static final int COLD_INLET = 4;
    static final int COLD_OUTLET = 5;
    static final int HOT_CAPACITY = 6;
    static final int COLD_CAPACITY = 7;
    static final int SIZE = 8;

    double[] toVector() {
        return new double[] {hotFlowM3PerS, coldFlowM3PerS, hotInletC, hotOutletC, coldInletC, coldOutletC, 1, 1};
    }

    static ExchangerState of(List<Double> x) {
        return new ExchangerState(
                x.get(HOT_FLOW),
                x.get(COLD_FLOW),
                x.get(HOT_INLET),
                x.get(HOT_OUTLET),
                x.get(COLD_INLET),
                x.get(COLD_OUTLET));
    }

    public double hotMeanC() {
        return (hotInletC + hotOutletC) / 2;
    }

    public double coldMeanC() {
        return (coldInletC + coldOutletC) / 2;
    }

    /** TCS supply over FWS supply temperature. */
    public double approachK() {
        return hotOutletC - coldInletC;
    }

    /** This state, or why no exchanger that cools can be in it. */
    public Computed<ExchangerState> plausible() {
        if (!Double.isFinite(hotFlowM3PerS + coldFlowM3PerS + hotInletC + hotOutletC + coldInletC + coldOutletC)) {
            return Computed.unavailable(Reason.INPUT_BAD, "a measurement is not a finite number: " + this);
        }
        if (hotFlowM3PerS < 0 || coldFlowM3PerS < 0) {
            return implausible("TCS flow is " + hotFlowM3PerS + " and FWS flow " + coldFlowM3PerS
                    + " m3/s; a negative flow means a meter mounted or wired the wrong way");
        }
        if (hotFlowM3PerS == 0 || coldFlowM3PerS == 0) {
            return Computed.unavailable(
                    Reason.NOT_RUNNING, "TCS flow is " + hotFlowM3PerS + " and FWS flow " + coldFlowM3PerS + " m3/s");
        }
        if (hotInletC <= hotOutletC) {
            return implausible("TCS return is " + hotInletC + " °C and not above TCS supply at " + hotOutletC + " °C");
        }
        if (coldOutletC <= coldInletC) {
            return implausible(
                    "FWS return is " + coldOutletC + " °C and not above FWS supply at " + coldInletC + " °C");
        }
        if (hotOutletC <= coldInletC) {
            return implausible("TCS supply is " + hotOutletC + " °C and not above FWS supply at " + coldInletC + " °C");
        }
        if (hotInletC <= coldOutletC) {
            return implausible("TCS return is " + hotInletC + " °C and not above FWS return at " + coldOutletC + " °C");
        }
        return Computed.of(this);
    }

    private static Computed<ExchangerState> implausible(String detail) {
        return Computed.unavailable(Reason.INPUT_IMPLAUSIBLE, detail);
    }
}
