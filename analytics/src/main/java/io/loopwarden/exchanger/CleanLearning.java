package io.loopwarden.exchanger;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fluid.FluidState;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Covariance;
import io.loopwarden.statistics.GaussianBelief;
import io.loopwarden.statistics.GaussianBelief.Observation;
import java.util.ArrayList;
import java.util.List;

/** How a clean model comes about: from the nameplate alone, then from windows of the clean exchanger. */
public final class CleanLearning {

    /** Suppliers round, leave margin and test other units than this one. */
    static final double NAMEPLATE_UNCERTAINTY_RATIO = 0.15;

    /** Share of the plates in the resistance at rated flows: 0.5 mm of steel beside two water films. */
    static final double WALL_SHARE = 0.13;

    static final double WALL_SHARE_UNCERTAINTY = 0.05;

    /** How far the split between the films may stray from what equal channels on both sides would give. */
    static final double SPLIT_UNCERTAINTY = 0.06;

    /** Kumar 0.663, Martin near 0.7, Muley and Manglik 0.70 to 0.78, by the angle of the plates. */
    static final double EXPONENT = 0.7;

    static final double EXPONENT_UNCERTAINTY = 0.04;

    static final int LEAST_WINDOWS = 3;

    private static final int RELINEARISATIONS = 4;

    /** Windows from which on their own scatter about the model says how noisy they are. */
    private static final int LEAST_WINDOWS_FOR_NOISE = 24;

    /** A few quiet days do not promise a quiet year, and noise beyond the most is a fault. */
    private static final double LEAST_NOISE_SCALE = 0.02;

    private static final double MOST_NOISE_SCALE = 4;

    private CleanLearning() {}

    /**
     * One steady window of the clean exchanger.
     *
     * @param noise random part of the window's means
     */
    public record Window(ExchangerState measured, Covariance noise) {}

    /** What the nameplate and the class of the sensors say before any data: wide, but not silent. */
    public static Computed<CleanModel> fromNameplate(Nameplate n, Exchanger exchanger) {
        double supplyC = n.designFwsSupplyTemperatureC();
        RatedConditions rated =
                new RatedConditions(n.ratedDutyW(), n.ratedTcsFlowM3PerS(), n.ratedFwsFlowM3PerS(), supplyC);
        return rated.stateAt(exchanger, n.ratedApproachK())
                .flatMap(ExchangerState::plausible)
                .flatMap(s -> exchanger
                        .conductance(s, 1)
                        .flatMap(ua -> exchanger
                                .hot()
                                .coolant()
                                .stateAt(s.hotMeanC())
                                .flatMap(h -> exchanger
                                        .cold()
                                        .coolant()
                                        .stateAt(s.coldMeanC())
                                        .map(c -> prior(n, exchanger, s, 1 / ua.value(), h, c)))));
    }

    /**
     * The model after windows of the clean exchanger. A window whose temperatures nearly meet says nothing and is left
     * out; with fewer than {@value #LEAST_WINDOWS} that speak there is no model.
     */
    public static Computed<CleanModel> learn(CleanModel prior, List<Window> windows) {
        Computed<CleanModel> model = Computed.of(prior);
        for (int i = 0; i < RELINEARISATIONS; i++) {
            model = model.flatMap(at -> learn(prior, at, windows));
        }
        return model;
    }

    private static Computed<CleanModel> learn(CleanModel prior, CleanModel at, List<Window> windows) {
        List<Observation> observations = new ArrayList<>();
        for (Window w : windows) {
            at.sighting(w.measured(), w.noise())
                    .flatMap(s -> at.clean(w.measured()).map(clean -> observations(s, clean, at)))
                    .map(observations::addAll);
        }
        int speaking = observations.size() / 2;
        if (speaking < LEAST_WINDOWS) {
            return Computed.unavailable(
                    Reason.BASELINE_MISSING,
                    speaking + " of " + windows.size() + " clean windows can be learnt from, at least " + LEAST_WINDOWS
                            + " are needed");
        }
        return prior.belief()
                .after(observations)
                .map(belief -> new CleanModel(prior.exchanger(), prior.hot(), prior.cold(), belief, at.noiseScale()))
                .map(model -> withNoiseOf(model, windows));
    }

    /** Birge's ratio: squares of what the windows leave unexplained over what was foreseen, with its degrees of freedom. */
    private static CleanModel withNoiseOf(CleanModel model, List<Window> windows) {
        double squares = 0;
        int n = 0;
        for (Window w : windows) {
            double square = model.sighting(w.measured(), w.noise())
                    .flatMap(s -> model.clean(w.measured()).map(clean -> s.unexplained(clean.value())))
                    .fold(q -> q, gap -> -1.0);
            if (square >= 0) {
                squares += square;
                n += 2;
            }
        }
        if (n < 2 * LEAST_WINDOWS_FOR_NOISE) {
            return model;
        }
        double scale = model.noiseScale() * squares / (n - CleanModel.SIZE);
        double bounded = Math.min(MOST_NOISE_SCALE, Math.max(LEAST_NOISE_SCALE, scale));
        return new CleanModel(model.exchanger(), model.hot(), model.cold(), model.belief(), bounded);
    }

    /** Imbalance and resistance of a window; the part of the resistance's noise that the imbalance shares is taken out. */
    private static List<Observation> observations(Sighting s, CleanModel.Linear clean, CleanModel at) {
        double gain = s.crossNoise() / s.imbalanceNoise();
        double[] perImbalance = new double[CleanModel.SIZE];
        double[] perResistance = clean.slopes().clone();
        for (int i = 0; i < ExchangerState.SIZE; i++) {
            perImbalance[CleanModel.FIRST_OFFSET + i] = s.imbalancePerOffset()[i];
            perResistance[CleanModel.FIRST_OFFSET + i] = s.resistancePerOffset()[i] - gain * s.imbalancePerOffset()[i];
        }
        double resistanceVariance = s.resistanceNoise() - gain * s.crossNoise();
        // values as an exactly linear window would show them, so that each round starts again from the prior
        double imbalance = s.imbalanceW() + at.along(perImbalance);
        double resistance = s.resistanceKPerW() - clean.value() - gain * s.imbalanceW() + at.along(perResistance);
        return List.of(
                new Observation(perImbalance, imbalance, s.imbalanceNoise()),
                new Observation(perResistance, resistance, resistanceVariance));
    }

    private static CleanModel prior(
            Nameplate n, Exchanger exchanger, ExchangerState s, double resistance, FluidState h, FluidState c) {
        Film hot = new Film(n.ratedTcsFlowM3PerS(), h);
        Film cold = new Film(n.ratedFwsFlowM3PerS(), c);
        // equal channels: the films stand to each other as one film at two flows and states
        double coldOverHotFilm = hot.ratio(n.ratedFwsFlowM3PerS(), c, EXPONENT);
        double hotShare = (1 - WALL_SHARE) * coldOverHotFilm / (1 + coldOverHotFilm);
        double coldShare = 1 - WALL_SHARE - hotShare;
        double[] level = {WALL_SHARE, hotShare, coldShare};
        double[] wallForFilms = {1, -0.5, -0.5};
        double[] hotForCold = {0, 1, -1};
        double[][] v = new double[CleanModel.SIZE][CleanModel.SIZE];
        for (int i = 0; i < level.length; i++) {
            for (int j = 0; j < level.length; j++) {
                v[i][j] = resistance
                        * resistance
                        * (square(NAMEPLATE_UNCERTAINTY_RATIO) * level[i] * level[j]
                                + square(WALL_SHARE_UNCERTAINTY) * wallForFilms[i] * wallForFilms[j]
                                + square(SPLIT_UNCERTAINTY) * hotForCold[i] * hotForCold[j]);
            }
        }
        v[CleanModel.EXPONENT][CleanModel.EXPONENT] = square(EXPONENT_UNCERTAINTY);
        double[] offsets = offsetUncertainties(exchanger, s, n.sensors());
        for (int i = 0; i < offsets.length; i++) {
            v[CleanModel.FIRST_OFFSET + i][CleanModel.FIRST_OFFSET + i] = square(offsets[i]);
        }
        List<Double> mean = new ArrayList<>(
                List.of(WALL_SHARE * resistance, hotShare * resistance, coldShare * resistance, EXPONENT));
        for (int i = 0; i < ExchangerState.SIZE; i++) {
            mean.add(0.0);
        }
        return new CleanModel(exchanger, hot, cold, new GaussianBelief(mean, Covariance.of(v)));
    }

    private static double[] offsetUncertainties(Exchanger exchanger, ExchangerState s, SensorClass sensors) {
        Covariance u = exchanger.uncertainty(s, sensors);
        double[] offsets = new double[ExchangerState.SIZE];
        for (int i = 0; i < offsets.length; i++) {
            offsets[i] = u.standardUncertainty(i);
        }
        offsets[ExchangerState.HOT_FLOW] = sensors.flowStandardUncertaintyRatio();
        offsets[ExchangerState.COLD_FLOW] = sensors.flowStandardUncertaintyRatio();
        return offsets;
    }

    private static double square(double x) {
        return x * x;
    }
}
