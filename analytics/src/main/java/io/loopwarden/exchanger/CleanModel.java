package io.loopwarden.exchanger;

import io.loopwarden.fluid.FluidState;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Covariance;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.GaussianBelief;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * Resistance of a clean exchanger as a function of both flows and both mean states, 1/UA = wall + hot/film_h +
 * cold/film_c, believed together with the constant offsets of the sensors around it.
 *
 * <p>The offsets belong in the same belief: a tenth of a kelvin moves the apparent UA of a clean exchanger with load, and
 * a model without offsets would read load as fouling.
 *
 * @param belief wall, hot and cold resistance (K/W at the reference films), exponent of the films, then the offsets
 *     (measured less true) in the order of {@link ExchangerState#QUANTITIES}, flows as ratios
 * @param noiseScale variance with which windows really stray from the model over the one foreseen; 1 until it is learnt
 */
public record CleanModel(Exchanger exchanger, Film hot, Film cold, GaussianBelief belief, double noiseScale) {

    static final int WALL = 0;
    static final int HOT = 1;
    static final int COLD = 2;
    static final int EXPONENT = 3;
    static final int FIRST_OFFSET = 4;
    static final int SIZE = FIRST_OFFSET + ExchangerState.SIZE;

    /** Films beyond these ratios to the reference leave the regime in which one exponent holds. */
    static final double LEAST_FILM_RATIO = 0.15;

    static final double MOST_FILM_RATIO = 3;

    /** Imbalance, in standard deviations, from which a sensor must have changed since the model was learnt. */
    static final double MOST_IMBALANCE_SCORE = 4;

    /** Relative error of an apparent UA beyond which first order propagation no longer describes it. */
    static final double MOST_UNCERTAINTY_RATIO = 0.2;

    /** A figure linear in the parameters near the belief: its value there and its slopes. */
    record Linear(double value, double[] slopes) {}

    /** A model of which it is not known yet how much windows stray from it. */
    CleanModel(Exchanger exchanger, Film hot, Film cold, GaussianBelief belief) {
        this(exchanger, hot, cold, belief, 1);
    }

    public CleanModel {
        if (!(noiseScale > 0) || Double.isInfinite(noiseScale)) {
            throw new IllegalArgumentException("noise scale is " + noiseScale + ", must be finite and above 0");
        }
        if (belief.mean().size() != SIZE) {
            throw new IllegalArgumentException("belief has " + belief.mean().size() + " parameters, must have " + SIZE);
        }
    }

    /** 1/UA of the clean exchanger at the flows and mean temperatures of a state. */
    public Computed<Estimate> cleanResistanceKPerW(ExchangerState s) {
        return clean(s).map(
                        r -> new Estimate(r.value, Math.sqrt(belief.covariance().variance(r.slopes))));
    }

    /**
     * Fouling in a window.
     *
     * @param noise random part of the window's means
     */
    public Computed<FoulingEstimate> fouling(ExchangerState measured, Covariance noise) {
        return sighting(measured, noise)
                .flatMap(sighting -> clean(measured).flatMap(clean -> fouling(sighting, clean)));
    }

    /**
     * UA in a window as it is, seen through what is believed of the sensors, W/K. Known better than by the class of the sensors
     * as soon as their offsets are learnt.
     */
    public Computed<Estimate> conductanceWPerK(ExchangerState measured, Covariance noise) {
        return sighting(measured, noise).map(s -> {
            Linear unknown = new Linear(0, new double[SIZE]);
            Corrected total = corrected(s, unknown);
            double resistance = total.value;
            return new Estimate(
                    1 / resistance,
                    Math.sqrt(belief.covariance().variance(total.error) + total.noise) / (resistance * resistance));
        });
    }

    /** A window seen through the believed offsets, unless what is left of their error could be most of its resistance. */
    Computed<Sighting> sighting(ExchangerState measured, Covariance noise) {
        return Sighting.of(exchanger, measured, offsets(), noise).flatMap(unscaled -> {
            Sighting s = unscaled.scaled(noiseScale);
            double[] slopes = new double[SIZE];
            System.arraycopy(s.resistancePerOffset(), 0, slopes, FIRST_OFFSET, ExchangerState.SIZE);
            double ratio = Math.sqrt(belief.covariance().variance(slopes) + s.resistanceNoise()) / s.resistanceKPerW();
            return ratio <= MOST_UNCERTAINTY_RATIO
                    ? Computed.of(s)
                    : Computed.unavailable(Reason.NOT_OBSERVABLE, tooUncertain(measured, s, slopes, ratio));
        });
    }

    /** Temperature errors weigh in inverse proportion to load, flow errors do not change with it. */
    private String tooUncertain(ExchangerState measured, Sighting s, double[] slopes, double ratio) {
        double[] flows = slopes.clone();
        Arrays.fill(flows, FIRST_OFFSET + ExchangerState.HOT_INLET, FIRST_OFFSET + ExchangerState.HOT_CAPACITY, 0);
        double steady = Math.sqrt(belief.covariance().variance(flows)) / s.resistanceKPerW();
        double limit = MOST_UNCERTAINTY_RATIO;
        double load = Math.sqrt((ratio * ratio - steady * steady) / (limit * limit - steady * steady));
        return String.format(
                Locale.ROOT,
                "UA is known to %.0f %% only (limit %.0f %%) at differences of %.2f and %.2f K between the sides; %s.",
                100 * ratio,
                100 * limit,
                measured.hotInletC() - measured.coldOutletC(),
                measured.approachK(),
                load < Double.POSITIVE_INFINITY
                        ? String.format(Locale.ROOT, "observable from %.1f times this load", load)
                        : "the flow meters alone exceed the limit at any load");
    }

    /** Sum of slopes times believed parameters. */
    double along(double[] slopes) {
        return belief.estimate(slopes).value();
    }

    List<Double> offsets() {
        return belief.mean().subList(FIRST_OFFSET, SIZE);
    }

    private Computed<FoulingEstimate> fouling(Sighting s, Linear clean) {
        Corrected c = corrected(s, clean);
        if (Math.abs(c.score) > MOST_IMBALANCE_SCORE) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    "the two duties differ by " + Math.round(s.imbalanceW())
                            + " W more than their sensors explain, " + Math.round(Math.abs(c.score))
                            + " standard deviations (limit " + MOST_IMBALANCE_SCORE + ")");
        }
        Covariance v = belief.covariance();
        Estimate fouling = new Estimate(c.value, Math.sqrt(v.variance(c.error) + c.noise));
        Estimate cleanResistance = new Estimate(clean.value, Math.sqrt(v.variance(clean.slopes)));
        List<Double> error = Arrays.stream(c.error).boxed().toList();
        return Computed.of(new FoulingEstimate(fouling, cleanResistance, c.score, error, Math.sqrt(c.noise)));
    }

    /** Resistance of a window above a reference, corrected by what the window's imbalance says of the offsets. */
    private record Corrected(double value, double[] error, double noise, double score) {}

    private Corrected corrected(Sighting s, Linear reference) {
        double[] perResistance = reference.slopes.clone();
        double[] perImbalance = new double[SIZE];
        for (int i = 0; i < ExchangerState.SIZE; i++) {
            perResistance[FIRST_OFFSET + i] = s.resistancePerOffset()[i];
            perImbalance[FIRST_OFFSET + i] = s.imbalancePerOffset()[i];
        }
        Covariance v = belief.covariance();
        double surpriseVariance = v.variance(perImbalance) + s.imbalanceNoise();
        double gain = (v.covariance(perResistance, perImbalance) + s.crossNoise()) / surpriseVariance;
        double[] error = new double[SIZE];
        for (int i = 0; i < SIZE; i++) {
            error[i] = gain * perImbalance[i] - perResistance[i];
        }
        return new Corrected(
                s.resistanceKPerW() - reference.value - gain * s.imbalanceW(),
                error,
                s.resistanceNoise() - 2 * gain * s.crossNoise() + gain * gain * s.imbalanceNoise(),
                s.imbalanceW() / Math.sqrt(surpriseVariance));
    }

    Computed<Linear> clean(ExchangerState s) {
        return exchanger
                .hot()
                .coolant()
                .stateAt(s.hotMeanC())
                .flatMap(h -> exchanger
                        .cold()
                        .coolant()
                        .stateAt(s.coldMeanC())
                        .flatMap(c -> clean(s.hotFlowM3PerS(), h, s.coldFlowM3PerS(), c)));
    }

    Computed<Linear> clean(double hotFlow, FluidState hotState, double coldFlow, FluidState coldState) {
        List<Double> p = belief.mean();
        double hotRatio = hot.ratio(hotFlow, hotState, p.get(EXPONENT));
        double coldRatio = cold.ratio(coldFlow, coldState, p.get(EXPONENT));
        if (!inRegime(hotRatio) || !inRegime(coldRatio)) {
            return Computed.unavailable(
                    Reason.OUTSIDE_VALID_RANGE,
                    "films are " + hotRatio + " (TCS) and " + coldRatio
                            + " (FWS) of their reference; the clean model holds " + "from " + LEAST_FILM_RATIO + " to "
                            + MOST_FILM_RATIO);
        }
        double hotResistance = p.get(HOT) / hotRatio;
        double coldResistance = p.get(COLD) / coldRatio;
        double[] slopes = new double[SIZE];
        slopes[WALL] = 1;
        slopes[HOT] = 1 / hotRatio;
        slopes[COLD] = 1 / coldRatio;
        slopes[EXPONENT] = -hotResistance * hot.logReynoldsRatio(hotFlow, hotState)
                - coldResistance * cold.logReynoldsRatio(coldFlow, coldState);
        return Computed.of(new Linear(p.get(WALL) + hotResistance + coldResistance, slopes));
    }

    private static boolean inRegime(double filmRatio) {
        return filmRatio >= LEAST_FILM_RATIO && filmRatio <= MOST_FILM_RATIO;
    }
}
