package io.loopwarden.control;

import io.loopwarden.statistics.LoadCount;
import io.loopwarden.statistics.Regularity;
import java.util.Optional;

/**
 * A regular oscillation of one signal. Three checks must agree: evenly spaced zero crossings of the autocovariance (Thornhill, Huang and
 * Zhang 2003), loads of Hägglund's detector (1995), and a spectrum that holds most of its power at that period.
 *
 * @param amplitude of the fundamental, in the signal's unit
 * @param regularity a third of mean over standard deviation of the intervals between crossings
 * @param spectralShare share of the variance at the period and its third harmonic
 * @param loads half periods that exceeded the limit
 */
public record Oscillation(double periodS, double amplitude, double regularity, double spectralShare, int loads) {

    private static final int FEWEST_CROSSINGS = 6;
    private static final double LEAST_SHARE = 0.4;

    /**
     * The oscillation of an evenly sampled signal, if there is one.
     *
     * @param leastAmplitude smaller ones do not matter
     */
    static Optional<Oscillation> of(double[] signal, double stepS, double leastAmplitude) {
        double[] y = detrended(signal);
        double variance = 0;
        for (double v : y) {
            variance += v * v / y.length;
        }
        if (Math.sqrt(2 * variance) < leastAmplitude) {
            return Optional.empty();
        }
        return Regularity.of(y, y.length / 2)
                .filter(r -> r.isRegular() && r.crossings() >= FEWEST_CROSSINGS)
                .flatMap(r -> checked(y, stepS, leastAmplitude, r));
    }

    private static Optional<Oscillation> checked(double[] y, double stepS, double leastAmplitude, Regularity r) {
        double period = 2 * r.halfPeriodSamples();
        double variance = 0;
        for (double v : y) {
            variance += v * v / y.length;
        }
        double fundamental = power(y, period);
        double share = (fundamental + power(y, period / 3)) / variance;
        double amplitude = Math.sqrt(2 * fundamental);
        // a sine of the least amplitude that matters, at this period, has this integral over a half period
        LoadCount loads = LoadCount.of(y, stepS, leastAmplitude * period * stepS / Math.PI / 2);
        boolean sure = share >= LEAST_SHARE && amplitude >= leastAmplitude && loads.oscillates();
        return sure
                ? Optional.of(new Oscillation(period * stepS, amplitude, r.ratio(), Math.min(1, share), loads.loads()))
                : Optional.empty();
    }

    /** Variance at a period, the largest within 3 % of it: the crossings give the period no better. */
    private static double power(double[] y, double period) {
        double most = 0;
        for (double p = 0.97; p <= 1.031; p += 0.01) {
            double w = 2 * Math.PI / (p * period);
            double c = 0;
            double s = 0;
            for (int i = 0; i < y.length; i++) {
                c += y[i] * Math.cos(w * i);
                s += y[i] * Math.sin(w * i);
            }
            most = Math.max(most, 2 * (c * c + s * s) / y.length / y.length);
        }
        return most;
    }

    private static double[] detrended(double[] signal) {
        int n = signal.length;
        double mean = 0;
        for (double v : signal) {
            mean += v / n;
        }
        double middle = (n - 1) / 2.0;
        double sxy = 0;
        double sxx = 0;
        for (int i = 0; i < n; i++) {
            sxy += (i - middle) * (signal[i] - mean);
            sxx += (i - middle) * (i - middle);
        }
        double[] y = new double[n];
        for (int i = 0; i < n; i++) {
            y[i] = signal[i] - mean - sxy / sxx * (i - middle);
        }
        return y;
    }
}
