package io.loopwarden.exchanger;

import io.loopwarden.exchanger.Exchanger.Sensitive;
import io.loopwarden.statistics.Covariance;
import java.util.Locale;

/** Why a conductance is not known well enough, and at what load it would be. */
final class Observability {

    private Observability() {}

    static String detail(ExchangerState s, Sensitive ua, Covariance covariance, double mostRatio) {
        String now = String.format(
                Locale.ROOT,
                "UA is known to %.1f %% only (limit %.1f %%) with %.2f K on the TCS and an approach of %.2f K",
                100 * ratio(ua.value(), ua.gradient(), covariance),
                100 * mostRatio,
                s.hotInletC() - s.hotOutletC(),
                s.approachK());
        double factor = loadFactor(ua, covariance, mostRatio);
        return Double.isInfinite(factor)
                ? now + "; the flow meters alone exceed the limit at any load"
                : now + String.format(Locale.ROOT, "; observable from %.1f times this load", factor);
    }

    /** Load over present load at which the limit is met at these flows; infinite where flow errors alone exceed it. */
    static double loadFactor(Sensitive ua, Covariance covariance, double mostRatio) {
        double[] flows = ua.gradient().clone();
        for (int i = ExchangerState.HOT_INLET; i <= ExchangerState.COLD_OUTLET; i++) {
            flows[i] = 0;
        }
        double ratio = ratio(ua.value(), ua.gradient(), covariance);
        double flowRatio = Math.min(ratio, ratio(ua.value(), flows, covariance));
        return flowRatio >= mostRatio
                ? Double.POSITIVE_INFINITY
                : Math.sqrt((ratio * ratio - flowRatio * flowRatio) / (mostRatio * mostRatio - flowRatio * flowRatio));
    }

    private static double ratio(double ua, double[] gradient, Covariance covariance) {
        return Math.sqrt(covariance.variance(gradient)) / ua;
    }
}
