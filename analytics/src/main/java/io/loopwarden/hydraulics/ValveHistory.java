package io.loopwarden.hydraulics;

import io.loopwarden.statistics.Estimate;
import java.util.List;
import java.util.Optional;

/**
 * The facility valve in its circuit: dp/Q² = R_rest + R_valve/φ(x)², a straight line over 1/φ², whose slope and intercept give the
 * authority. Old readings fade with a time constant of three days.
 *
 * @param sums of weight, z, y, zz, zy, yy for each of the rangeabilities that are thought possible
 */
public record ValveHistory(List<Double> sums, double atEpochS) {

    /** Equal-percentage valves have 30 to 50 (IEC 60534 leaves it to the maker). */
    private static final List<Double> RANGEABILITIES = List.of(32.0, 50.0);

    private static final int SUMS = 6;
    private static final double FADES_S = 3 * 86_400;
    private static final double LEAST_WEIGHT = 36;

    /** Below it valves leave their characteristic. */
    private static final double LEAST_POSITION = 0.12;

    private static final double LEAST_SPREAD_RATIO = 0.05;

    static final ValveHistory NEW =
            new ValveHistory(java.util.Collections.nCopies(SUMS * RANGEABILITIES.size(), 0.0), 0);

    public ValveHistory {
        sums = List.copyOf(sums);
    }

    /** @param resistanceRatio facility differential pressure over flow squared, relative to design and rated flow */
    ValveHistory after(double epochS, double position, double resistanceRatio) {
        if (!(position >= LEAST_POSITION && position <= 1.01 && resistanceRatio > 0)) {
            return this;
        }
        double fade = atEpochS == 0 ? 0 : Math.exp(-Math.max(0, epochS - atEpochS) / FADES_S);
        Double[] next = new Double[sums.size()];
        for (int k = 0; k < RANGEABILITIES.size(); k++) {
            double inherent = ControlValve.equalPercentage(RANGEABILITIES.get(k), position);
            double z = 1 / (inherent * inherent);
            double y = resistanceRatio;
            // errors of y go with y, so large resistances weigh little
            double weight = 1 / (y * y);
            double[] more = {weight, weight * z, weight * y, weight * z * z, weight * z * y, 1};
            for (int i = 0; i < SUMS; i++) {
                next[k * SUMS + i] = fade * sums.get(k * SUMS + i) + more[i];
            }
        }
        return new ValveHistory(List.of(next), epochS);
    }

    /** Share of the circuit's differential pressure that the open valve takes; empty where the valve has hardly moved. */
    public Optional<Estimate> authority() {
        double mean = 0;
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (int k = 0; k < RANGEABILITIES.size(); k++) {
            int at = k * SUMS;
            double w = sums.get(at);
            if (sums.get(at + SUMS - 1) < LEAST_WEIGHT) {
                return Optional.empty();
            }
            double zMean = sums.get(at + 1) / w;
            double variance = sums.get(at + 3) / w - zMean * zMean;
            if (variance < Math.pow(LEAST_SPREAD_RATIO * zMean, 2)) {
                return Optional.empty();
            }
            double slope = (sums.get(at + 4) / w - zMean * sums.get(at + 2) / w) / variance;
            double intercept = sums.get(at + 2) / w - slope * zMean;
            double authority = Math.max(0, Math.min(1, slope / Math.max(slope, slope + intercept)));
            mean += authority / RANGEABILITIES.size();
            least = Math.min(least, authority);
            most = Math.max(most, authority);
        }
        return Double.isFinite(mean) ? Optional.of(new Estimate(mean, (most - least) / 2 + 0.03)) : Optional.empty();
    }
}
