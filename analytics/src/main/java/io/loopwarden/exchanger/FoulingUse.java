package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;

/**
 * What deposits take from the facility while the controller holds the approach: water that a clean exchanger would not need, or
 * water that has to be colder.
 *
 * @param extraFlowM3PerS FWS flow beyond what the clean exchanger needs for the same duty and approach
 * @param colderByK what the deposits add to the approach at unchanged flows
 */
public record FoulingUse(double extraFlowM3PerS, double colderByK) {

    /** Flow is searched for down to this share of today's; less leaves the regime of the clean model. */
    private static final double LEAST_FLOW_RATIO = 0.2;

    private static final int HALVINGS = 16;

    public static Computed<FoulingUse> of(CleanModel model, ExchangerState s, FoulingEstimate fouling) {
        double resistance = fouling.resistanceKPerW().value();
        return model.exchanger()
                .hotRateWPerK(s)
                .flatMap(ch -> model.exchanger()
                        .coldRateWPerK(s)
                        .flatMap(cc -> model.clean(s).flatMap(clean -> {
                            double dutyW = ch * (s.hotInletC() - s.hotOutletC());
                            double now = approachK(dutyW, clean.value() + resistance, ch, cc);
                            double atSameFlow = approachK(dutyW, clean.value(), ch, cc);
                            if (!Double.isFinite(now + atSameFlow)) {
                                return Computed.unavailable(
                                        Reason.NOT_OBSERVABLE, "The window's resistance is not above 0.");
                            }
                            double ratio = cleanFlowRatio(model, s, dutyW, ch, cc, now);
                            return Computed.of(new FoulingUse(s.coldFlowM3PerS() * (1 - ratio), now - atSameFlow));
                        })));
    }

    private static double approachK(double dutyW, double resistanceKPerW, double ch, double cc) {
        return resistanceKPerW > 0 ? Approach.atDutyK(dutyW, 1 / resistanceKPerW, ch, cc) : Double.NaN;
    }

    /** FWS flow over today's at which the clean exchanger has today's approach; up to twice today's where it is cleaner than clean. */
    private static double cleanFlowRatio(
            CleanModel model, ExchangerState s, double dutyW, double ch, double cc, double approachK) {
        double low = LEAST_FLOW_RATIO;
        double high = 2;
        for (int i = 0; i < HALVINGS; i++) {
            double middle = (low + high) / 2;
            ExchangerState at = new ExchangerState(
                    s.hotFlowM3PerS(),
                    middle * s.coldFlowM3PerS(),
                    s.hotInletC(),
                    s.hotOutletC(),
                    s.coldInletC(),
                    s.coldInletC() + (s.coldOutletC() - s.coldInletC()) / middle);
            double there = model.clean(at)
                    .fold(clean -> approachK(dutyW, clean.value(), ch, middle * cc), gap -> Double.POSITIVE_INFINITY);
            if (there > approachK) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }
}
