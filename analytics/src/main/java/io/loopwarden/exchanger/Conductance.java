package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;

/** Overall conductance UA of a counterflow exchanger from what is measured around it, W/K. */
public final class Conductance {

    private Conductance() {}

    /** UA from duty, both capacity rates and both inlets; the outlets enter only by the duty. */
    public static Computed<Double> byEffectivenessWPerK(
            double dutyW, double hotRateWPerK, double coldRateWPerK, double hotInletC, double coldInletC) {
        double smaller = Math.min(hotRateWPerK, coldRateWPerK);
        double larger = Math.max(hotRateWPerK, coldRateWPerK);
        if (!(smaller > 0) || !(larger < Double.POSITIVE_INFINITY)) {
            return Computed.unavailable(
                    Reason.NOT_RUNNING,
                    "capacity rates are " + hotRateWPerK + " and " + coldRateWPerK + " W/K; both must be above 0");
        }
        double spanK = hotInletC - coldInletC;
        if (!(dutyW > 0 && spanK > 0)) {
            return notObservable(dutyW, spanK);
        }
        return Counterflow.ntu(dutyW / (smaller * spanK), smaller / larger).map(ntu -> ntu * smaller);
    }

    /** UA = q / log mean difference, from duty and all four temperatures. */
    public static Computed<Double> byLogMeanWPerK(
            double dutyW, double hotInletC, double hotOutletC, double coldInletC, double coldOutletC) {
        if (!(dutyW > 0)) {
            return notObservable(dutyW, hotInletC - coldInletC);
        }
        return LogMean.differenceK(hotInletC - coldOutletC, hotOutletC - coldInletC)
                .map(meanK -> dutyW / meanK);
    }

    private static Computed<Double> notObservable(double dutyW, double spanK) {
        return Computed.unavailable(
                Reason.NOT_OBSERVABLE,
                "duty is " + dutyW + " W over " + spanK + " K between the inlets; both must be above 0");
    }
}
