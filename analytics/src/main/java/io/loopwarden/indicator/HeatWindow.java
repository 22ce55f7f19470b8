package io.loopwarden.indicator;

import io.loopwarden.exchanger.SteadyState;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.Optional;

/**
 * One steady window as what is remembered of the exchanger takes it.
 *
 * @param fwsDpPa what the facility offers; the nameplate's where it is not measured
 * @param tcsSideDpPa over the TCS side of the exchangers, their mean
 * @param fwsSideDpPa the same of the FWS side
 */
public record HeatWindow(
        SteadyState state,
        double tcsFlowRatio,
        double fwsFlowRatio,
        Optional<Double> fwsDpPa,
        Optional<Double> tcsSideDpPa,
        Optional<Double> fwsSideDpPa) {

    static HeatWindow of(SteadyState state, Means steady, Means recent, Nameplate n) {
        return new HeatWindow(
                state,
                state.measured().hotFlowM3PerS() / n.ratedTcsFlowM3PerS(),
                state.measured().coldFlowM3PerS() / n.ratedFwsFlowM3PerS(),
                value(steady, Points.FWS_DP)
                        .or(() -> n.designFwsDpPa().isPresent()
                                ? Optional.of(n.designFwsDpPa().getAsDouble())
                                : Optional.empty()),
                mean(recent, "exchanger.{n}.tcs.dp", n.exchangers()),
                mean(recent, "exchanger.{n}.fws.dp", n.exchangers()));
    }

    /** Of all exchangers, so that one that is missing does not look like a change. */
    private static Optional<Double> mean(Means recent, String pattern, int exchangers) {
        double sum = 0;
        for (int i = 1; i <= exchangers; i++) {
            Optional<Double> one = value(recent, Points.numbered(pattern, i));
            if (one.isEmpty()) {
                return Optional.empty();
            }
            sum += one.get();
        }
        return Optional.of(sum / exchangers);
    }

    private static Optional<Double> value(Means means, PointName point) {
        Computed<Estimate> mean = means.of(point);
        return mean.fold(e -> Optional.of(e.value()), gap -> Optional.empty());
    }
}
