package io.loopwarden.exchanger;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Crossing;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.TheilSen;
import java.util.ArrayList;
import java.util.List;

/** What the days since the last cleaning say together: whether fouling grows, and when it reaches its limit. */
public final class FoulingTrend {

    /** Days of which the latest level is the mean. */
    private static final int LEVEL_DAYS = 3;

    /** What the model itself may be wrong by, of the clean resistance, beside what its parameters are. */
    private static final double MODEL_ERROR_RATIO = 0.0015;

    /** One-sided; asked anew each day, so beyond 1.64: a month of clean days calls falsely once in a hundred. */
    private static final double CALL_SCORE = 3;

    private static final int LEAST_FORECAST_DAYS = 7;

    /** Longer histories are averaged over two, three … days, which keeps the refits cheap. */
    private static final int MOST_FORECAST_POINTS = 45;

    /** A forecast beyond this says "not in sight". */
    public static final double HORIZON_DAYS = 730;

    private FoulingTrend() {}

    /** Mean fouling of the latest days, with all of its error. */
    public static Computed<Estimate> level(FoulingHistory history) {
        List<FoulingDay> days = history.daysSinceCleaning();
        if (days.isEmpty()) {
            return Computed.unavailable(
                    Reason.BASELINE_MISSING,
                    history.stillLearning().orElse("No whole day has been measured since the last cleaning."));
        }
        return Computed.of(level(days.subList(Math.max(0, days.size() - LEVEL_DAYS), days.size()), history.model()));
    }

    private static Estimate level(List<FoulingDay> days, CleanModel model) {
        double mean = 0;
        double noise = 0;
        double clean = 0;
        double[] error = new double[CleanModel.SIZE];
        for (FoulingDay day : days) {
            mean += day.resistanceKPerW() / days.size();
            clean += day.cleanResistanceKPerW() / days.size();
            noise += square(day.noiseKPerW() / days.size());
            for (int i = 0; i < error.length; i++) {
                error[i] += day.errors()[i] / days.size();
            }
        }
        double shared = model.belief().covariance().variance(error);
        return new Estimate(mean, Math.sqrt(shared + noise + square(MODEL_ERROR_RATIO * clean)));
    }

    /** Fouling is there, beyond what errors explain, with 95 % confidence over a month of asking each day. */
    public static Computed<Boolean> fouled(FoulingHistory history) {
        return level(history).map(level -> level.value() > CALL_SCORE * level.standardUncertainty());
    }

    /** Fouling that a day adds, K/W, by a robust line through the days since the last cleaning. */
    public static Computed<Double> growthKPerWPerDay(FoulingHistory history) {
        List<FoulingDay> days = history.daysSinceCleaning();
        if (days.size() < LEAST_FORECAST_DAYS) {
            return Computed.unavailable(
                    Reason.BASELINE_MISSING,
                    "Growth takes " + LEAST_FORECAST_DAYS + " whole days; there are " + days.size() + ".");
        }
        List<Point> points = points(days, days.get(0).epochDay());
        return TheilSen.of(
                        points.stream().mapToDouble(Point::x).toArray(),
                        points.stream().mapToDouble(Point::resistanceKPerW).toArray(),
                        0.95)
                .flatMap(line -> line.lowerSlope() > 0
                        ? Computed.of(line.slope())
                        : Computed.unavailable(
                                Reason.NOT_OBSERVABLE, "Deposits do not grow beyond what scatter explains."));
    }

    /** Fouling resistance at which the unit just keeps its promise at rated conditions, and its error in the model. */
    private record Limit(double resistanceKPerW, double[] cleanSlopes) {}

    /** Fouling resistance at which the unit just keeps the promise of its nameplate. */
    public static Computed<Double> limitKPerW(FoulingHistory history, Nameplate nameplate) {
        return limit(history.model(), nameplate).map(Limit::resistanceKPerW);
    }

    /** Days from the end of the last whole day until the promise of the nameplate is no longer kept. */
    public static Computed<Crossing> forecast(FoulingHistory history, Nameplate nameplate) {
        return limit(history.model(), nameplate).flatMap(limit -> forecast(history, limit));
    }

    /** Days from the end of the last whole day until fouling reaches a given resistance. */
    public static Computed<Crossing> forecast(FoulingHistory history, double limitKPerW) {
        return forecast(history, new Limit(limitKPerW, new double[CleanModel.SIZE]));
    }

    private static Computed<Crossing> forecast(FoulingHistory history, Limit limit) {
        List<FoulingDay> days = history.daysSinceCleaning();
        if (days.size() < LEAST_FORECAST_DAYS) {
            return Computed.unavailable(
                    Reason.BASELINE_MISSING,
                    history.stillLearning()
                            .orElse("A forecast takes " + LEAST_FORECAST_DAYS + " whole days; there are " + days.size()
                                    + "."));
        }
        long origin = days.get(0).epochDay();
        List<Point> points = points(days, origin);
        double[] x = points.stream().mapToDouble(Point::x).toArray();
        double[] y = points.stream().mapToDouble(Point::resistanceKPerW).toArray();
        double now = days.get(days.size() - 1).epochDay() + 1.0 - origin;
        Crossing.Question question = new Crossing.Question(
                limit.resistanceKPerW, now + HORIZON_DAYS, origin, sharedErrors(points, limit, history.model()));
        return Crossing.forecast(x, y, question).map(c -> c.from(now));
    }

    /** One or more days taken together. */
    private record Point(double x, double resistanceKPerW, double[] errors) {}

    /** Middle of the days and their fouling, over so many days each that there are not too many. */
    private static List<Point> points(List<FoulingDay> days, long origin) {
        int together = (days.size() + MOST_FORECAST_POINTS - 1) / MOST_FORECAST_POINTS;
        List<Point> points = new ArrayList<>();
        // the newest days are never left over
        for (int i = days.size() % together; i < days.size(); i += together) {
            double x = 0;
            double y = 0;
            double[] errors = new double[CleanModel.SIZE];
            for (FoulingDay day : days.subList(i, i + together)) {
                x += day.since(origin) / together;
                y += day.resistanceKPerW() / together;
                for (int k = 0; k < errors.length; k++) {
                    errors[k] += day.errors()[k] / together;
                }
            }
            points.add(new Point(x, y, errors));
        }
        return points;
    }

    /** What one standard deviation along each axis of the model's belief does to every point, as seen from the limit. */
    private static List<double[]> sharedErrors(List<Point> points, Limit limit, CleanModel model) {
        double[][] factor = model.belief().covariance().factor();
        List<double[]> shared = new ArrayList<>();
        for (int axis = 0; axis < CleanModel.SIZE; axis++) {
            double[] error = new double[points.size()];
            for (int i = 0; i < error.length; i++) {
                for (int k = 0; k < CleanModel.SIZE; k++) {
                    error[i] += (points.get(i).errors[k] + limit.cleanSlopes[k]) * factor[k][axis];
                }
            }
            shared.add(error);
        }
        return shared;
    }

    private static Computed<Limit> limit(CleanModel model, Nameplate n) {
        RatedConditions rated = new RatedConditions(
                n.ratedDutyW(), n.ratedTcsFlowM3PerS(), n.ratedFwsFlowM3PerS(), n.designFwsSupplyTemperatureC());
        return rated.stateAt(model.exchanger(), n.ratedApproachK())
                .flatMap(s -> model.exchanger()
                        .conductance(s, 1)
                        .flatMap(ua -> model.clean(s)
                                .map(clean -> new Limit(1 / ua.value() - clean.value(), clean.slopes()))));
    }

    private static double square(double x) {
        return x * x;
    }
}
