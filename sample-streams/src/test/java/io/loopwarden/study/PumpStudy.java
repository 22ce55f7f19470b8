package io.loopwarden.study;

import io.loopwarden.hydraulics.PumpHistory;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.virtual.fault.FaultKind;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/** How soon a pump's loss of head is found, what is stated of it, and what is called where nothing is lost. */
final class PumpStudy {

    private static final int COMMISSIONING_DAYS = 16;
    private static final int WATCHED_DAYS = 7;
    private static final double LOST = 0.03;
    private static final int NEVER = 99;

    private final TrialUnits units;

    PumpStudy(TrialUnits units) {
        this.units = units;
    }

    /**
     * One unit.
     *
     * @param foundOnDay days from the loss to the call
     * @param stated loss of the pump that ran last, at the end
     * @param filterError of the most loaded filter at the end, as a share of the true loading
     */
    record Wear(int foundOnDay, boolean calledBefore, Optional<Estimate> stated, double filterError) {}

    List<Finding> run(long seed, int trials) {
        List<Finding> findings = new ArrayList<>();
        List<Wear> worn = Trials.run(seed, 13, trials, r -> wear(r, LOST, 0));
        findings.add(Finding.of(
                "pump: 3 % of head lost, found within 7 days",
                100.0
                        * worn.stream()
                                .filter(w -> w.foundOnDay() <= WATCHED_DAYS)
                                .count()
                        / worn.size(),
                "%",
                ">= 95",
                f -> f >= 95));
        List<Double> days = worn.stream().map(w -> (double) w.foundOnDay()).toList();
        findings.add(Finding.told("    median day", FilterStudy.quantile(days, 0.5), "d"));
        findings.add(Finding.told(
                "    95 % interval holds the true loss",
                100.0
                        * worn.stream()
                                .filter(w -> w.stated()
                                        .filter(e -> e.lower95() <= LOST && LOST <= e.upper95())
                                        .isPresent())
                                .count()
                        / worn.size(),
                "%"));
        List<Wear> well = Trials.run(seed, 14, trials, r -> wear(r, 0, 0));
        findings.add(Finding.of(
                "pump: called worn where nothing is lost, units in 23 days",
                100.0
                        * well.stream()
                                .filter(w -> w.calledBefore() || w.foundOnDay() < NEVER)
                                .count()
                        / well.size(),
                "%",
                "<= 2",
                f -> f <= 2));
        List<Wear> both = Trials.run(seed, 15, trials, r -> wear(r, LOST, 0.04));
        findings.add(Finding.of(
                "filter loading and pump wear at once: both keep their names",
                100.0
                        * both.stream()
                                .filter(w -> w.foundOnDay() <= WATCHED_DAYS
                                        && Math.abs(w.filterError()) <= 0.05
                                        && w.stated()
                                                .filter(e -> Math.abs(e.value() - LOST) < 0.01)
                                                .isPresent())
                                .count()
                        / both.size(),
                "%",
                ">= 95",
                f -> f >= 95));
        return findings;
    }

    Wear wear(Random random, double lost, double filterPerDay) {
        LoopTrial trial = new LoopTrial(LoopTrial.asServed(units.anywhere(random)));
        trial.days(COMMISSIONING_DAYS);
        boolean before = worn(trial);
        if (lost > 0) {
            trial.fault(FaultKind.PUMP_WEAR, 0, lost, 0);
        }
        if (filterPerDay > 0) {
            trial.fault(FaultKind.FILTER_LOADING, 0, 0, filterPerDay);
        }
        int found = NEVER;
        for (int day = 1; day <= WATCHED_DAYS; day++) {
            trial.days(1);
            found = found == NEVER && worn(trial) ? day : found;
        }
        int running = trial.watch.memory().loop().running().get(0);
        Optional<Estimate> stated =
                trial.watch.memory().loop().pumps().get(running - 1).lostHead();
        double truth = trial.unit.truth().filterLoading().get(0);
        double error = LoopTrial.of(trial.next(), "filter-loading").fold(e -> e.value() / truth - 1, gap -> 1.0);
        return new Wear(found, before, stated, error);
    }

    private static boolean worn(LoopTrial trial) {
        return trial.watch.memory().loop().pumps().stream().anyMatch(PumpHistory::isWorn);
    }
}
