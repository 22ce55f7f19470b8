package io.loopwarden.exchanger;

import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * Fouling over one day of UTC: mean of its windows, each weighted by its own noise.
 *
 * @param epochDay days since 1970-01-01
 * @param meanEpochS mean time of the windows, weighted like their values, s
 * @param weight sum of 1/noise² of the windows
 * @param resistanceKPerW weighted mean of the fouling resistance
 * @param cleanResistanceKPerW the same of the clean resistance at the windows' flows
 * @param errorPerParameter the same of {@link FoulingEstimate#errorPerParameter}
 */
public record FoulingDay(
        long epochDay,
        int windows,
        double meanEpochS,
        double weight,
        double resistanceKPerW,
        double cleanResistanceKPerW,
        List<Double> errorPerParameter) {

    /** A day's windows share weather, load course and whatever the model lacks: no more of them count as independent. */
    private static final int MOST_INDEPENDENT = 4;

    public FoulingDay {
        errorPerParameter = List.copyOf(errorPerParameter);
    }

    static FoulingDay empty(long epochDay) {
        return new FoulingDay(epochDay, 0, 0, 0, 0, 0, Collections.nCopies(CleanModel.SIZE, 0.0));
    }

    FoulingDay with(FoulingEstimate f, double epochS) {
        double more = 1 / (f.noiseKPerW() * f.noiseKPerW());
        double share = more / (weight + more);
        List<Double> error = new ArrayList<>(CleanModel.SIZE);
        for (int i = 0; i < CleanModel.SIZE; i++) {
            error.add(mixed(errorPerParameter.get(i), f.errorPerParameter().get(i), share));
        }
        return new FoulingDay(
                epochDay,
                windows + 1,
                mixed(meanEpochS, epochS, share),
                weight + more,
                mixed(resistanceKPerW, f.resistanceKPerW().value(), share),
                mixed(cleanResistanceKPerW, f.cleanResistanceKPerW().value(), share),
                error);
    }

    /** Mean time of the windows, days since the beginning of another day. */
    double since(long originDay) {
        return meanEpochS / 86_400 - originDay;
    }

    private static double mixed(double a, double b, double share) {
        return a + share * (b - a);
    }

    /** Part of the error that the next day does not share. */
    public double noiseKPerW() {
        return Math.sqrt(Math.max(1, (double) windows / MOST_INDEPENDENT) / weight);
    }

    /** The day's fouling with all of its error. */
    public Estimate resistance(CleanModel model) {
        double shared = model.belief().covariance().variance(errors());
        return new Estimate(resistanceKPerW, Math.sqrt(shared + noiseKPerW() * noiseKPerW()));
    }

    double[] errors() {
        return errorPerParameter.stream().mapToDouble(Double::doubleValue).toArray();
    }
}
