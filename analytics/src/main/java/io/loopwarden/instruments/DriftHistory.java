package io.loopwarden.instruments;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.instruments.Residual.Form;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.LearntLine.Span;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What a unit's sensors have come to say of each other: redundant pairs and the heat balance, each against what it was when learnt. A
 * drift of one sensor shows in them with a signature; sensors with one and the same signature cannot be told apart.
 *
 * @param rateRatio FWS over TCS capacity rate, latest
 */
public record DriftHistory(
        Residual supplyPair,
        Residual returnPair,
        Residual flowPair,
        Residual balance,
        double riseK,
        double rateRatio,
        double atEpochS,
        double calibratedS) {

    public static final DriftHistory NEW =
            new DriftHistory(Residual.NEW, Residual.NEW, Residual.NEW, Residual.NEW, 10, 1, 0, -1e12);

    public static final double READ_EVERY_S = 600;

    private static final Form TEMPERATURE_PAIR = new Form(new Span(3 * 86_400, 72), 0.01, 0.005, false, 1);
    private static final Form FLOW_PAIR = new Form(new Span(3 * 86_400, 72), 0.003, 0.001, false, 0.1);
    private static final Form BALANCE = new Form(new Span(5 * 86_400, 60), 0.04, 0.012, true, 1);

    /** Asked each day of each residual, hence far beyond 2. */
    private static final double CALL_SCORE = 5;

    private static final double LEAST_PAIR_K = 0.03;
    private static final double LEAST_FLOW_RATIO = 0.005;
    private static final double LEAST_BALANCE_K = 0.06;

    /** Hypotheses whose misfit exceeds the least by less than this are not told apart (chi-square, 99.7 %). */
    private static final double ALIKE = 9;

    /**
     * Sensors of which one drifts, as far as the data can tell.
     *
     * @param points the smallest set that can be told apart
     * @param amount by how much, were it that sensor: K for temperatures, a ratio for flows
     */
    public record Drift(List<Suspect> points) {
        public Drift {
            points = List.copyOf(points);
        }
    }

    /** One of them. */
    public record Suspect(PointName point, double amount) {}

    public boolean isDue(double epochS) {
        return epochS - atEpochS >= READ_EVERY_S;
    }

    public DriftHistory after(BalanceReading r) {
        double at = r.epochS();
        return new DriftHistory(
                r.supplyPairK()
                        .map(d -> supplyPair.after(at, d, 0, TEMPERATURE_PAIR))
                        .orElse(supplyPair),
                r.returnPairK()
                        .map(d -> returnPair.after(at, d, 0, TEMPERATURE_PAIR))
                        .orElse(returnPair),
                r.flowPairRatio().map(d -> flowPair.after(at, d, 0, FLOW_PAIR)).orElse(flowPair),
                r.balanceK().map(d -> balance.after(at, d, r.riseK(), BALANCE)).orElse(balance),
                r.balanceK().isPresent() ? r.riseK() : riseK,
                r.balanceK().isPresent() ? r.rateRatio() : rateRatio,
                at,
                calibratedS);
    }

    /** A calibration or change of any of the sensors: what they say of each other is learnt anew. */
    public DriftHistory calibrated(double epochS) {
        return epochS > calibratedS
                ? new DriftHistory(
                        Residual.NEW, Residual.NEW, Residual.NEW, Residual.NEW, riseK, rateRatio, atEpochS, epochS)
                : this;
    }

    /** By how much the TCS supply temperature used to exceed its redundant one. */
    public Optional<Double> supplyPairK() {
        return supplyPair.constant();
    }

    public Optional<Double> returnPairK() {
        return returnPair.constant();
    }

    /** What a drift of one sensor by one unit adds to each residual: supply pair, return pair, flow pair, balance. */
    private record Hypothesis(PointName point, double[] signature) {}

    private List<Hypothesis> hypotheses() {
        return List.of(
                new Hypothesis(Points.TCS_SUPPLY_TEMPERATURE, new double[] {1, 0, 0, -1}),
                new Hypothesis(Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT, new double[] {-1, 0, 0, 0}),
                new Hypothesis(Points.TCS_RETURN_TEMPERATURE, new double[] {0, 1, 0, 1}),
                new Hypothesis(Points.TCS_RETURN_TEMPERATURE_REDUNDANT, new double[] {0, -1, 0, 0}),
                new Hypothesis(Points.FWS_SUPPLY_TEMPERATURE, new double[] {0, 0, 0, rateRatio}),
                new Hypothesis(Points.FWS_RETURN_TEMPERATURE, new double[] {0, 0, 0, -rateRatio}),
                new Hypothesis(Points.TCS_FLOW, new double[] {0, 0, 1, riseK}),
                new Hypothesis(Points.TCS_RETURN_FLOW, new double[] {0, 0, -1, 0}),
                new Hypothesis(Points.FWS_FLOW, new double[] {0, 0, 0, -riseK}));
    }

    /** Which sensor drifts, or the smallest set of sensors of which one does; empty where none is called. */
    public Optional<Drift> drift() {
        List<Optional<Estimate>> levels = List.of(
                supplyPair.level(TEMPERATURE_PAIR),
                returnPair.level(TEMPERATURE_PAIR),
                flowPair.level(FLOW_PAIR),
                balance.level(BALANCE));
        boolean called = exceeds(levels.get(0), LEAST_PAIR_K)
                || exceeds(levels.get(1), LEAST_PAIR_K)
                || exceeds(levels.get(2), LEAST_FLOW_RATIO)
                || exceeds(levels.get(3), LEAST_BALANCE_K);
        return called ? Optional.of(new Drift(suspects(levels))) : Optional.empty();
    }

    private static boolean exceeds(Optional<Estimate> level, double least) {
        return level.filter(l -> Math.abs(l.value()) > Math.max(least, CALL_SCORE * l.standardUncertainty()))
                .isPresent();
    }

    private List<Suspect> suspects(List<Optional<Estimate>> levels) {
        List<Suspect> all = new ArrayList<>();
        List<Double> misfits = new ArrayList<>();
        double least = Double.POSITIVE_INFINITY;
        for (Hypothesis h : hypotheses()) {
            double projection = 0;
            double square = 0;
            double misfit = 0;
            for (int i = 0; i < levels.size(); i++) {
                if (levels.get(i).isPresent()) {
                    Estimate l = levels.get(i).get();
                    double d = h.signature()[i] / l.standardUncertainty();
                    double y = l.value() / l.standardUncertainty();
                    projection += d * y;
                    square += d * d;
                    misfit += y * y;
                }
            }
            double amount = square > 0 ? projection / square : 0;
            misfit -= square > 0 ? projection * projection / square : 0;
            all.add(new Suspect(h.point(), amount));
            misfits.add(misfit);
            least = Math.min(least, misfit);
        }
        List<Suspect> suspects = new ArrayList<>();
        for (int i = 0; i < all.size(); i++) {
            if (misfits.get(i) - least < ALIKE) {
                suspects.add(all.get(i));
            }
        }
        return suspects;
    }

    /** For studies and tables: each residual's level. */
    public List<Optional<Estimate>> levels() {
        return List.of(
                supplyPair.level(TEMPERATURE_PAIR),
                returnPair.level(TEMPERATURE_PAIR),
                flowPair.level(FLOW_PAIR),
                balance.level(BALANCE));
    }
}
