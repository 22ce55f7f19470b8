package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;

/**
 * What a cleaning brought, at the same flows and states.
 *
 * @param removedKPerW fouling resistance before less after
 * @param conductanceRatio UA after over UA before
 * @param recoveredShare share of the lost UA that came back, 1 for as good as clean
 */
public record CleaningEffect(Estimate removedKPerW, double conductanceRatio, Computed<Estimate> recoveredShare) {

    /** Below this many deviations of fouling there was nothing to remove, and a share of nothing means nothing. */
    private static final double LEAST_FOULING_SCORE = 2;

    /**
     * @param before fouling resistance before; its error is taken as independent of the one after, which overstates the
     *     result's error where both share a baseline
     */
    public static Computed<CleaningEffect> of(Estimate before, Estimate after, double cleanResistanceKPerW) {
        double total = cleanResistanceKPerW + before.value();
        double totalAfter = cleanResistanceKPerW + after.value();
        if (!(cleanResistanceKPerW > 0 && total > 0 && totalAfter > 0)) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    "resistance is " + total + " K/W before and " + totalAfter + " K/W after, with "
                            + cleanResistanceKPerW + " K/W clean; all must be above 0");
        }
        Estimate removed = new Estimate(
                before.value() - after.value(), Math.hypot(before.standardUncertainty(), after.standardUncertainty()));
        return Computed.of(new CleaningEffect(removed, total / totalAfter, share(before, after, cleanResistanceKPerW)));
    }

    /** (UA_after - UA_before)/(UA_clean - UA_before) = (b - a)/b · clean/(clean + a), b and a the fouling resistances. */
    private static Computed<Estimate> share(Estimate before, Estimate after, double clean) {
        double b = before.value();
        double a = after.value();
        if (!(b > LEAST_FOULING_SCORE * before.standardUncertainty())) {
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE,
                    "fouling before the cleaning was " + b + " K/W with a standard uncertainty of "
                            + before.standardUncertainty() + " K/W: too little to speak of a share");
        }
        double thinning = clean / (clean + a);
        double perBefore = a / (b * b) * thinning;
        double perAfter = -thinning / b - (b - a) / b * thinning / (clean + a);
        return Computed.of(new Estimate(
                (b - a) / b * thinning,
                Math.hypot(perBefore * before.standardUncertainty(), perAfter * after.standardUncertainty())));
    }
}
