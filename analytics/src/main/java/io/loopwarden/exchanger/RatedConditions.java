package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;

/**
 * Conditions at which the capability of an exchanger is asked for: a duty, both flows (FWS with its valve fully open) and
 * the facility supply temperature.
 */
public record RatedConditions(double dutyW, double hotFlowM3PerS, double coldFlowM3PerS, double coldSupplyC) {

    /** Temperatures enter the properties only, so each round gains two digits or more. */
    private static final int ROUNDS = 6;

    /** Far below what any sensor knows. */
    private static final double SETTLED_K = 1e-7;

    private static final double FIRST_APPROACH_K = 3;
    private static final double FIRST_RANGE_K = 10;

    /** What an exchanger would do at the conditions, and how that changes with its resistance. */
    private record Answer(double value, double perResistance) {}

    /** Approach that the exchanger, with the fouling of a window, would have at this duty, K. */
    public Computed<Estimate> approachK(CleanModel clean, FoulingEstimate fouling) {
        return approachK(clean, fouling, FIRST_APPROACH_K);
    }

    /** The same from a first guess. */
    public Computed<Estimate> approachK(CleanModel clean, FoulingEstimate fouling, double firstK) {
        Computed<Estimate> approach = plausible(firstK).map(k -> new Estimate(k, 0));
        double lastK = firstK;
        for (int i = 0; i < ROUNDS; i++) {
            approach = approach.flatMap(a -> stateAt(clean.exchanger(), a.value()))
                    .flatMap(s -> answer(clean, fouling, s, RatedConditions::approachAt));
            double nowK = approach.<Double>fold(Estimate::value, gap -> Double.NaN);
            if (!(Math.abs(nowK - lastK) >= SETTLED_K)) {
                break;
            }
            lastK = nowK;
        }
        return approach;
    }

    /** Duty that the exchanger, with the fouling of a window, could carry at these flows and this approach, W. */
    public Computed<Estimate> largestDutyW(CleanModel clean, FoulingEstimate fouling, double approachK) {
        Computed<Estimate> duty = plausible(approachK).map(k -> new Estimate(dutyW, 0));
        for (int i = 0; i < ROUNDS; i++) {
            duty = duty.flatMap(q -> new RatedConditions(q.value(), hotFlowM3PerS, coldFlowM3PerS, coldSupplyC)
                            .stateAt(clean.exchanger(), approachK))
                    .flatMap(s -> answer(clean, fouling, s, (q, ch, cc, r) -> {
                        Answer perWatt = approachAt(1, ch, cc, r);
                        double watts = approachK / perWatt.value;
                        return new Answer(watts, -watts / perWatt.value * perWatt.perResistance);
                    }));
        }
        return duty;
    }

    private Computed<Double> plausible(double approachK) {
        boolean plausible = dutyW > 0
                && hotFlowM3PerS > 0
                && coldFlowM3PerS > 0
                && approachK > 0
                && Double.isFinite(dutyW + hotFlowM3PerS + coldFlowM3PerS + coldSupplyC + approachK);
        return plausible
                ? Computed.of(approachK)
                : Computed.unavailable(
                        Reason.INPUT_IMPLAUSIBLE,
                        this + " with an approach of " + approachK
                                + " K: all but the temperature must be above 0, and finite");
    }

    /** Temperatures of an exchanger that carries this duty at an approach, whether or not its UA allows it. */
    Computed<ExchangerState> stateAt(Exchanger exchanger, double approachK) {
        double hotOutletC = coldSupplyC + approachK;
        ExchangerState state = stateAt(hotOutletC, FIRST_RANGE_K, FIRST_RANGE_K);
        for (int i = 0; i < ROUNDS; i++) {
            ExchangerState at = state;
            Computed<ExchangerState> next = exchanger
                    .hotRateWPerK(at)
                    .flatMap(ch -> exchanger.coldRateWPerK(at).map(cc -> stateAt(hotOutletC, dutyW / ch, dutyW / cc)));
            if (!(next instanceof Computed.Value<ExchangerState> found)) {
                return next;
            }
            state = found.value();
            double moved =
                    Math.abs(state.hotInletC() - at.hotInletC()) + Math.abs(state.coldOutletC() - at.coldOutletC());
            if (moved < SETTLED_K) {
                break;
            }
        }
        return Computed.of(state);
    }

    private ExchangerState stateAt(double hotOutletC, double hotRangeK, double coldRangeK) {
        return new ExchangerState(
                hotFlowM3PerS,
                coldFlowM3PerS,
                hotOutletC + hotRangeK,
                hotOutletC,
                coldSupplyC,
                coldSupplyC + coldRangeK);
    }

    @FunctionalInterface
    private interface Question {
        Answer at(double dutyW, double hotRateWPerK, double coldRateWPerK, double resistanceKPerW);
    }

    private static Answer approachAt(double dutyW, double hotRate, double coldRate, double resistance) {
        double ua = 1 / resistance;
        return new Answer(
                Approach.atDutyK(dutyW, ua, hotRate, coldRate),
                -ua * ua * Approach.perConductanceK2PerW(dutyW, ua, hotRate, coldRate));
    }

    private Computed<Estimate> answer(CleanModel clean, FoulingEstimate fouling, ExchangerState s, Question question) {
        return clean.clean(s).flatMap(there -> {
            double resistance = there.value() + fouling.resistanceKPerW().value();
            if (!(resistance > 0)) {
                return Computed.unavailable(
                        Reason.INPUT_IMPLAUSIBLE,
                        "resistance at the conditions would be " + resistance + " K/W, must be above 0");
            }
            double[] error = new double[CleanModel.SIZE];
            for (int i = 0; i < error.length; i++) {
                error[i] = there.slopes()[i] + fouling.errorPerParameter().get(i);
            }
            double uncertainty =
                    Math.hypot(Math.sqrt(clean.belief().covariance().variance(error)), fouling.noiseKPerW());
            return clean.exchanger()
                    .hotRateWPerK(s)
                    .flatMap(ch -> clean.exchanger().coldRateWPerK(s).map(cc -> {
                        Answer a = question.at(dutyW, ch, cc, resistance);
                        return new Estimate(a.value, Math.abs(a.perResistance) * uncertainty);
                    }));
        });
    }
}
