package io.loopwarden.exchanger;

import io.loopwarden.exchanger.Exchanger.Sensitive;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Covariance;
import java.util.List;

/**
 * What one steady window says of an exchanger once the believed offsets of its sensors are taken off: the resistance 1/UA
 * and the imbalance of its two duties, each with its slopes to a further offset and with the noise of the window.
 *
 * @param resistancePerOffset change of the resistance per unit of each offset (flows: per ratio)
 * @param crossNoise covariance of the noise of the two
 */
record Sighting(
        double resistanceKPerW,
        double[] resistancePerOffset,
        double imbalanceW,
        double[] imbalancePerOffset,
        double resistanceNoise,
        double imbalanceNoise,
        double crossNoise) {

    /** What a window that is never quite steady and a model that is never quite right leave unexplained, of the value. */
    private static final double MISFIT_RATIO = 0.003;

    /**
     * @param offsets believed, measured less true, in the order of {@link ExchangerState#QUANTITIES}
     * @param noise random part of the window's means only; what does not change between windows is an offset
     */
    static Computed<Sighting> of(Exchanger exchanger, ExchangerState measured, List<Double> offsets, Covariance noise) {
        ExchangerState s = new ExchangerState(
                measured.hotFlowM3PerS() * (1 - offsets.get(ExchangerState.HOT_FLOW)),
                measured.coldFlowM3PerS() * (1 - offsets.get(ExchangerState.COLD_FLOW)),
                measured.hotInletC() - offsets.get(ExchangerState.HOT_INLET),
                measured.hotOutletC() - offsets.get(ExchangerState.HOT_OUTLET),
                measured.coldInletC() - offsets.get(ExchangerState.COLD_INLET),
                measured.coldOutletC() - offsets.get(ExchangerState.COLD_OUTLET));
        double hotFactor = 1 - offsets.get(ExchangerState.HOT_CAPACITY);
        double coldFactor = 1 - offsets.get(ExchangerState.COLD_CAPACITY);
        return exchanger
                .conductance(s, hotFactor)
                .flatMap(ua -> exchanger
                        .hotDuty(s, hotFactor)
                        .flatMap(duty -> exchanger
                                .imbalance(s, hotFactor, coldFactor)
                                .map(imbalance -> of(measured, noise, ua, duty.value(), imbalance))));
    }

    private static Sighting of(
            ExchangerState measured, Covariance noise, Sensitive ua, double dutyW, Sensitive imbalance) {
        double resistance = 1 / ua.value();
        double[] slope = new double[ExchangerState.SIZE];
        for (int i = 0; i < slope.length; i++) {
            slope[i] = -ua.gradient()[i] * resistance * resistance;
        }
        return new Sighting(
                resistance,
                perOffset(slope, measured),
                imbalance.value(),
                perOffset(imbalance.gradient(), measured),
                noise.variance(slope) + square(MISFIT_RATIO * resistance),
                noise.variance(imbalance.gradient()) + square(MISFIT_RATIO * dutyW),
                noise.covariance(slope, imbalance.gradient()));
    }

    /** The same with variances of the noise times a factor. */
    Sighting scaled(double factor) {
        return new Sighting(
                resistanceKPerW,
                resistancePerOffset,
                imbalanceW,
                imbalancePerOffset,
                factor * resistanceNoise,
                factor * imbalanceNoise,
                factor * crossNoise);
    }

    /** Square of what the two figures leave unexplained, in units of their joint noise; two degrees of freedom. */
    double unexplained(double expectedResistanceKPerW) {
        double gain = crossNoise / imbalanceNoise;
        double resistance = resistanceKPerW - expectedResistanceKPerW - gain * imbalanceW;
        return imbalanceW * imbalanceW / imbalanceNoise
                + resistance * resistance / (resistanceNoise - gain * crossNoise);
    }

    /** Flow meters err in proportion to the reading, the others by a constant. */
    private static double[] perOffset(double[] gradient, ExchangerState measured) {
        double[] g = gradient.clone();
        g[ExchangerState.HOT_FLOW] *= measured.hotFlowM3PerS();
        g[ExchangerState.COLD_FLOW] *= measured.coldFlowM3PerS();
        return g;
    }

    private static double square(double x) {
        return x * x;
    }
}
