package io.loopwarden.study;

import io.loopwarden.inventory.LeakSettings;
import io.loopwarden.inventory.LoopPoint;
import io.loopwarden.study.LoopTruth.Conditions;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;

/** Time from the onset of a leak until it is called, beside Lorden's lower bound for the noise at hand. */
final class LeakDelays {

    private static final double DAY_S = 86400;
    private static final double FALSE_ALARM_S = 10 * 365.25 * DAY_S;
    private static final double MOST_OF_BOUND = 3;
    private static final double WARM_DAYS = 2;

    private record Case(double litresPerHour, double dtS, double withinS, String within, List<LoopPoint> points) {}

    private static final List<Case> CASES = List.of(
            new Case(1000, 1, 5, "level alone, 1 s", LeakTrial.LEVEL_ONLY),
            new Case(1000, 1, 5, "both flow meters, 1 s", LeakTrial.WITH_FLOWS),
            new Case(200, 1, 20, "level alone, 1 s", LeakTrial.LEVEL_ONLY),
            new Case(200, 1, 20, "both flow meters, 1 s", LeakTrial.WITH_FLOWS),
            new Case(20, 10, 300, "level alone, 10 s", LeakTrial.LEVEL_ONLY),
            new Case(1, 60, 5400, "level alone, 1 min", LeakTrial.LEVEL_ONLY),
            new Case(0.1, 60, 86400, "level alone, 1 min", LeakTrial.LEVEL_ONLY));

    private LeakDelays() {}

    static List<Finding> run(long seed, int trials) {
        List<Finding> findings = new ArrayList<>();
        for (int i = 0; i < CASES.size(); i++) {
            Case c = CASES.get(i);
            List<Double> delays = Trials.run(seed, 20 + i, trials, r -> delay(r, c)).stream()
                    .sorted()
                    .toList();
            double mean = delays.stream().mapToDouble(d -> d).average().orElseThrow();
            double p95 = delays.get((int) (0.95 * (delays.size() - 1)));
            double bound = boundS(c.litresPerHour(), c.dtS());
            String name = "delay of " + Report.number(c.litresPerHour()) + " L/h, " + c.within();
            boolean levelAlone = c.points() == LeakTrial.LEVEL_ONLY;
            findings.add(
                    Finding.of(name + ": mean", mean, "s", "<= " + Report.number(c.withinS()), f -> f <= c.withinS()));
            findings.add(Finding.told("    95 % of them within", p95, "s"));
            if (levelAlone) {
                findings.add(Finding.told("    Lorden's bound at one false alarm in 10 unit-years", bound, "s"));
                findings.add(
                        Finding.of("    mean over that bound", mean / bound, "1", "<= 3", f -> f <= MOST_OF_BOUND));
            }
        }
        return findings;
    }

    private static double delay(Random random, Case c) {
        LeakTrial trial = new LeakTrial(
                new SplittableRandom(random.nextLong()), Conditions.CALM, c.points(), LeakSettings.DEFAULT);
        trial.run(WARM_DAYS * DAY_S + random.nextDouble() * DAY_S, 60);
        if (c.dtS() < 60) {
            trial.run(7200, c.dtS());
        }
        double from = trial.truth.timeS();
        trial.truth.leak(c.litresPerHour());
        double mostS = 10 * c.withinS();
        while (trial.truth.timeS() - from < mostS) {
            trial.step(c.dtS());
            if (trial.watch.called()) {
                return trial.truth.timeS() - from;
            }
        }
        return mostS;
    }

    /**
     * Lorden's bound (Annals of Mathematical Statistics 42, 1971), in Lai's form for observations that are not alike (IEEE Trans.
     * Information Theory 44, 1998): observations until the information about the change, a known ramp in the sensor's white noise, is
     * the logarithm of the mean number between false alarms.
     */
    static double boundS(double litresPerHour, double dtS) {
        double step = LoopTruth.LEVEL_STEP * LoopTruth.RESERVOIR_L;
        double noise = LoopTruth.LEVEL_NOISE * LoopTruth.RESERVOIR_L;
        double variance = noise * noise + step * step / 12;
        double perStepL = litresPerHour / 3600 * dtS;
        double wanted = Math.log(FALSE_ALARM_S / dtS);
        double information = 0;
        int n = 0;
        while (true) {
            n++;
            double next = information + perStepL * perStepL * n * n / (2 * variance);
            if (next >= wanted) {
                return (n - 1 + (wanted - information) / (next - information)) * dtS;
            }
            information = next;
        }
    }
}
