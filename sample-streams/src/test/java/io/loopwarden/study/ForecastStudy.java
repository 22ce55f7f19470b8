package io.loopwarden.study;

import static io.loopwarden.study.TrialUnits.between;

import io.loopwarden.exchanger.FoulingTrend;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Crossing;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;

/** How often the true date on which deposits reach a limit lies in the stated intervals. */
final class ForecastStudy {

    private static final int COMMISSIONING_DAYS = 5;
    private static final double LIMIT_SHARE = 0.12;

    private final TrialUnits units;
    private double[] shares = new double[6];

    ForecastStudy(TrialUnits units) {
        this.units = units;
    }

    private record Forecast(double trueDays, Computed<Crossing> stated) {

        boolean isStated() {
            return stated.isAvailable();
        }

        boolean holds(boolean at95) {
            return stated.fold(
                    c -> below(at95 ? c.lower95() : c.lower80()) && above(at95 ? c.upper95() : c.upper80()),
                    gap -> false);
        }

        /** Which stretch of the stated distribution the truth lies in, from before the 95 % interval to after it. */
        int bin() {
            return stated.<Integer>fold(
                    c -> {
                        int bin = 0;
                        for (Crossing.Bound b :
                                List.of(c.lower95(), c.lower80(), c.median(), c.upper80(), c.upper95())) {
                            bin += b.x().isPresent() && b.x().getAsDouble() < trueDays ? 1 : 0;
                        }
                        return bin;
                    },
                    gap -> 0);
        }

        private boolean below(Crossing.Bound lower) {
            return lower.x().isPresent() && lower.x().getAsDouble() <= trueDays;
        }

        private boolean above(Crossing.Bound upper) {
            return upper.x().isEmpty() || trueDays <= upper.x().getAsDouble();
        }

        double relativeError() {
            OptionalDouble median = stated.fold(c -> c.median().x(), gap -> OptionalDouble.empty());
            return median.isPresent() ? Math.abs(median.getAsDouble() - trueDays) / trueDays : 1;
        }
    }

    List<Finding> run(long seed, int trials) {
        List<Forecast> all = Trials.run(seed, 5, trials, this::trial);
        List<Forecast> stated = all.stream().filter(Forecast::isStated).toList();
        shares = new double[6];
        stated.forEach(f -> shares[f.bin()] += 100.0 / stated.size());
        return List.of(
                Finding.within(
                        "forecast: true date in the 80 % interval",
                        share(stated, false), Trials.spread(stated, f -> f.holds(false) ? 100 : 0), "%", 75, 85),
                Finding.told("    true date in the 95 % interval", share(stated, true), "%"),
                Finding.told(
                        "    median error of the date, of the days left",
                        100
                                * stated.stream()
                                        .mapToDouble(Forecast::relativeError)
                                        .sorted()
                                        .toArray()[stated.size() / 2],
                        "%"),
                Finding.told("    trials in which a date is stated", 100.0 * stated.size() / trials, "%"));
    }

    /** Of the last run. */
    Picture picture() {
        return Picture.bars(
                "Calibration of the forecast",
                "Where the true date lies in what was stated: before the 95 % interval, before the 80 % one, before the median, and"
                        + " so on. An honest forecast meets the expected shares.",
                List.of("< 2.5 %", "2.5 to 10", "10 to 50", "50 to 90", "90 to 97.5", "> 97.5 %"),
                "% of trials",
                List.of(
                        new Picture.Row("expected", new double[] {2.5, 7.5, 40, 40, 7.5, 2.5}),
                        new Picture.Row("found", shares)));
    }

    private static double share(List<Forecast> stated, boolean at95) {
        return 100.0 * stated.stream().filter(f -> f.holds(at95)).count() / stated.size();
    }

    /** Deposits grow on a line or towards an asymptote; asked between a quarter and three quarters of the way in time. */
    private Forecast trial(Random random) {
        TrialUnits.Trial trial = units.anywhere(random);
        WatchedUnit watched = new WatchedUnit(trial);
        hours(watched, COMMISSIONING_DAYS * 24);
        Nameplate n = trial.nameplate();
        double area = n.plateAreaM2().orElseThrow();
        double limitKPerW = LIMIT_SHARE / watched.unit().truth().cleanUaWPerK();
        double crossingDays = between(30, 100, random);
        if (random.nextDouble() < 0.6) {
            watched.unit().addFault(TrialUnits.linear(watched.unit().now(), limitKPerW * area / crossingDays));
        } else {
            double timeConstant = crossingDays * between(0.6, 1.5, random);
            double asymptote = limitKPerW * area / -Math.expm1(-crossingDays / timeConstant);
            watched.unit().addFault(TrialUnits.asymptotic(watched.unit().now(), asymptote, timeConstant));
        }
        int asked = (int) Math.round(crossingDays * between(0.25, 0.75, random));
        // one window more closes the last day
        hours(watched, asked * 24 + 2);
        return new Forecast(crossingDays - asked, FoulingTrend.forecast(watched.history(), limitKPerW));
    }

    private static void hours(WatchedUnit watched, int hours) {
        for (int hour = 0; hour < hours; hour++) {
            watched.nextHour();
        }
    }
}
