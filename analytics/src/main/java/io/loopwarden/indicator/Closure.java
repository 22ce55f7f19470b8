package io.loopwarden.indicator;

import io.loopwarden.exchanger.HeatBalance;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** How far the two sides of the exchanger disagree on the heat that crosses it, over their mean. */
final class Closure {

    private Closure() {}

    static Computed<Estimate> of(Design design, Means means) {
        return Side.TCS
                .dutyW(design, means)
                .flatMap(tcs -> Side.FWS.dutyW(design, means).flatMap(fws -> of(tcs, fws)));
    }

    static Computed<Estimate> of(Estimate tcs, Estimate fws) {
        return HeatBalance.closureRatio(tcs.value(), fws.value()).map(ratio -> {
            double sum = tcs.value() + fws.value();
            double byTcs = 4 * fws.value() / (sum * sum);
            double byFws = 4 * tcs.value() / (sum * sum);
            return new Estimate(
                    ratio, Math.hypot(byTcs * tcs.standardUncertainty(), byFws * fws.standardUncertainty()));
        });
    }

    static boolean within(Estimate closure, double coverage) {
        return Math.abs(closure.value()) <= coverage * closure.standardUncertainty();
    }
}
