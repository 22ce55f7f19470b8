package io.loopwarden.statistics;

import java.util.Optional;

/**
 * How regular a signal swings, by the zero crossings of its autocovariance (Thornhill, Huang and Zhang, J. Process Control 13, 2003,
 * 91–100): noise has irregular ones, an oscillation evenly spaced ones.
 *
 * @param crossings zero crossings of the autocovariance; the stretch before the first is left out
 * @param halfPeriodSamples mean interval between them
 * @param ratio a third of mean over standard deviation of the intervals; above 1 the oscillation is regular
 */
public record Regularity(int crossings, double halfPeriodSamples, double ratio) {

    private static final int FEWEST = 3;

    /** Empty where the autocovariance crosses zero too seldom up to the largest lag. */
    public static Optional<Regularity> of(double[] signal, int largestLag) {
        double[] acf = autocovariance(signal, largestLag);
        double previous = Double.NaN;
        int intervals = 0;
        double sum = 0;
        double squares = 0;
        for (int lag = 1; lag <= largestLag; lag++) {
            if (acf[lag - 1] * acf[lag] >= 0) {
                continue;
            }
            double at = lag - 1 + acf[lag - 1] / (acf[lag - 1] - acf[lag]);
            if (!Double.isNaN(previous)) {
                intervals++;
                sum += at - previous;
                squares += (at - previous) * (at - previous);
            }
            previous = at;
        }
        if (intervals < FEWEST - 1) {
            return Optional.empty();
        }
        double mean = sum / intervals;
        double variance = Math.max(0, squares - intervals * mean * mean) / (intervals - 1);
        return Optional.of(new Regularity(intervals + 1, mean, mean / Math.sqrt(variance) / 3));
    }

    /** Autocovariance without the mean, divided by the number of samples, lags 0 to the largest. */
    private static double[] autocovariance(double[] signal, int largestLag) {
        double mean = 0;
        for (double value : signal) {
            mean += value / signal.length;
        }
        double[] acf = new double[largestLag + 1];
        for (int lag = 0; lag <= largestLag; lag++) {
            for (int i = lag; i < signal.length; i++) {
                acf[lag] += (signal[i] - mean) * (signal[i - lag] - mean);
            }
            acf[lag] /= signal.length;
        }
        return acf;
    }

    public boolean isRegular() {
        return ratio > 1;
    }
}
