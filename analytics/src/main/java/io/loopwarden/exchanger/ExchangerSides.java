package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.DailyTrack;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.LearntLine;
import java.time.Instant;
import java.util.Optional;

/**
 * Differential pressure of each side of the exchanger against its own clean relation to flow. Deposits narrow the channels of the
 * side they lie on, so the side whose pressure has grown is likely the fouled one; heat transfer alone cannot tell.
 */
public record ExchangerSides(Side tcs, Side fws) {

    public static final ExchangerSides NEW = new ExchangerSides(Side.NEW, Side.NEW);

    private static final LearntLine.Span SPAN = new LearntLine.Span(5 * 86_400.0, 36);
    private static final int LEVEL_DAYS = 3;

    /** Of a plate pack's ln dp about its relation to flow, within a quarter of an hour: viscosity and flow not quite steady. */
    private static final double SCATTER = 0.02;

    /** One side is named where its growth beats its error so many times, and the other's by as much. */
    private static final double CLEAR_SCORE = 3;

    /**
     * One side.
     *
     * @param clean ln(dp/Pa) = a + n·ln(flow over rated), n near 1.8 in plates (Kumar; Martin)
     * @param growth ln of dp over that of the clean side, by day
     */
    public record Side(LearntLine clean, DailyTrack growth) {

        static final Side NEW = new Side(
                LearntLine.begin(new double[] {Math.log(40_000), 1.8}, new double[] {1.5, 0.1}), DailyTrack.EMPTY);

        Side after(double epochS, double dpPa, double flowRatio) {
            double[] at = {1, Math.log(flowRatio)};
            if (!clean.learnt()) {
                return new Side(clean.with(epochS, at, Math.log(dpPa), SCATTER * SCATTER, SPAN), growth);
            }
            return new Side(
                    clean, growth.with(epochS, Math.log(dpPa) - clean.at(at).value()));
        }

        /** Growth of differential pressure at the same flow since it was learnt, as a ratio. */
        Computed<Estimate> growthRatio(double untilEpochS) {
            if (!clean.learnt()) {
                return Computed.unavailable(
                        Reason.BASELINE_MISSING,
                        "The clean differential pressure over the exchanger is being learnt, or it is not measured.");
            }
            double relation = clean.at(new double[] {1, 0}).standardUncertainty();
            return growth.level(0, untilEpochS, LEVEL_DAYS)
                    .map(e -> new Estimate(
                            Math.expm1(e.value()),
                            Math.exp(e.value()) * Math.hypot(e.standardUncertainty(), relation)));
        }
    }

    /** After the means of a quarter of an hour; a side without a sensor, or a value that no flow explains, is left as it was. */
    public ExchangerSides after(
            Instant at, Optional<Double> tcsDpPa, double tcsFlowRatio, Optional<Double> fwsDpPa, double fwsFlowRatio) {
        double epochS = at.getEpochSecond();
        return new ExchangerSides(after(tcs, epochS, tcsDpPa, tcsFlowRatio), after(fws, epochS, fwsDpPa, fwsFlowRatio));
    }

    private static Side after(Side side, double epochS, Optional<Double> dpPa, double flowRatio) {
        boolean usable = dpPa.isPresent() && dpPa.get() > 100 && flowRatio > 0.1 && flowRatio < 3;
        return usable ? side.after(epochS, dpPa.get(), flowRatio) : side;
    }

    public Computed<Estimate> tcsGrowthRatio(Instant until) {
        return tcs.growthRatio(until.getEpochSecond());
    }

    public Computed<Estimate> fwsGrowthRatio(Instant until) {
        return fws.growthRatio(until.getEpochSecond());
    }

    /** In words, which side likely fouls; empty where neither stands out. */
    public String likelySide(Instant until) {
        return tcsGrowthRatio(until)
                .flatMap(t -> fwsGrowthRatio(until).map(f -> {
                    double apart = CLEAR_SCORE * Math.hypot(t.standardUncertainty(), f.standardUncertainty());
                    if (f.value() > CLEAR_SCORE * f.standardUncertainty() && f.value() - t.value() > apart) {
                        return "FWS side, by its differential pressure";
                    }
                    return t.value() > CLEAR_SCORE * t.standardUncertainty() && t.value() - f.value() > apart
                            ? "TCS side, by its differential pressure"
                            : "";
                }))
                .fold(words -> words, gap -> "");
    }
}
