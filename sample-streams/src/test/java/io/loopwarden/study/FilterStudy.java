package io.loopwarden.study;

import io.loopwarden.statistics.Estimate;
import io.loopwarden.virtual.VirtualUnit;
import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.fault.FaultKind;
import io.loopwarden.watch.UnitFigures;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.DoubleStream;

/**
 * Loading of filters while flow runs from 40 to 100 % of rated, and the date of change-out at half life. The filters of a unit load at
 * rates of their own; in every other unit debris comes into one of them.
 */
final class FilterStudy {

    private static final int LEARNING_DAYS = 5;
    private static final double LEAST_FLOW_RATIO = 0.4;

    private final TrialUnits units;

    FilterStudy(TrialUnits units) {
        this.units = units;
    }

    /**
     * One unit.
     *
     * @param errors of the loading stated for the most loaded filter, as a share of the true one
     * @param dateError of the date at half life over what truly remained; empty where none was given
     */
    record Life(List<Double> errors, Optional<Double> dateError, boolean dateCovered) {}

    List<Finding> run(long seed, int trials) {
        List<Life> even = Trials.run(seed, 11, trials, r -> life(r, false));
        List<Life> debris = Trials.run(seed, 12, trials, r -> life(r, true));
        List<Finding> findings = new ArrayList<>();
        loading(findings, even, "filter loading, 40 to 100 % flow, even wear: within 5 % of true");
        loading(findings, debris, "filter loading, 40 to 100 % flow, debris in one: within 5 % of true");
        List<Double> dates = even.stream()
                .flatMap(life -> life.dateError().stream())
                .map(Math::abs)
                .toList();
        findings.add(Finding.of(
                "change-out date at half life: within 10 % of what remains",
                100.0 * dates.stream().filter(e -> e <= 0.1).count() / even.size(), "%", ">= 90", f -> f >= 90));
        findings.add(Finding.told("    median error, of what remains", 100 * quantile(dates, 0.5), "%"));
        findings.add(Finding.told(
                "    95 % interval holds the true date",
                100.0 * even.stream().filter(Life::dateCovered).count() / even.size(), "%"));
        return findings;
    }

    private static void loading(List<Finding> findings, List<Life> lives, String what) {
        List<Double> errors = lives.stream()
                .flatMap(life -> life.errors().stream())
                .map(Math::abs)
                .toList();
        double within = 100.0 * errors.stream().filter(e -> e <= 0.05).count() / Math.max(1, errors.size());
        findings.add(Finding.of(what, within, "%", ">= 95", f -> f >= 95));
        findings.add(Finding.told("    median error", 100 * quantile(errors, 0.5), "%"));
    }

    static double quantile(List<Double> values, double share) {
        List<Double> sorted = new ArrayList<>(values);
        Collections.sort(sorted);
        return sorted.isEmpty() ? 0 : sorted.get((int) Math.min(sorted.size() - 1L, (long) (share * sorted.size())));
    }

    Life life(Random random, boolean debris) {
        LoopTrial trial = new LoopTrial(LoopTrial.wide(LoopTrial.asServed(units.anywhere(random))));
        int filters = trial.trial.nameplate().filters();
        double perDay = TrialUnits.between(0.007, 0.018, random);
        for (int n = 1; n <= filters; n++) {
            trial.fault(FaultKind.FILTER_LOADING, n, 0, perDay * TrialUnits.between(0.75, 1.25, random));
        }
        trial.closeRacks(200, 0.5, random);
        if (debris) {
            double fromS = trial.unit.now().getEpochSecond() + TrialUnits.between(7, 10, random) * 86_400;
            double step = TrialUnits.between(0.4, 1.5, random);
            trial.unit.addFault(new Fault(
                    FaultKind.FILTER_LOADING,
                    1 + random.nextInt(filters),
                    Optional.empty(),
                    fromS,
                    Double.POSITIVE_INFINITY,
                    step,
                    0,
                    0,
                    0));
        }
        double dueDays = dueDays(trial);
        trial.days(LEARNING_DAYS);
        List<Double> errors = new ArrayList<>();
        UnitFigures figures = null;
        int readings = (int) Math.max(14 * LoopTrial.READINGS_PER_DAY, dueDays / 2 * LoopTrial.READINGS_PER_DAY)
                - LEARNING_DAYS * LoopTrial.READINGS_PER_DAY;
        double rated = trial.trial.nameplate().ratedTcsFlowM3PerS();
        for (int i = 0; i < readings; i++) {
            figures = trial.next();
            if (trial.unit.truth().tcsFlowM3PerS() < LEAST_FLOW_RATIO * rated) {
                continue;
            }
            double[] truth = trial.unit.truth().filterLoading().stream()
                    .mapToDouble(Double::doubleValue)
                    .toArray();
            LoopTrial.of(figures, "filter-loading")
                    .map(stated -> errors.add(
                            stated.value() / DoubleStream.of(truth).max().orElseThrow() - 1));
        }
        double remains = dueDays - (trial.unit.now().getEpochSecond() - TrialUnits.START.getEpochSecond()) / 86_400.0;
        return LoopTrial.of(figures, "filter-days-to-change")
                .<Life>fold(
                        days -> new Life(errors, Optional.of(days.value() / remains - 1), covers(days, remains)),
                        gap -> new Life(errors, Optional.empty(), false));
    }

    private static boolean covers(Estimate days, double truth) {
        return days.lower95() <= truth && truth <= days.upper95();
    }

    /** Days from the start until an element truly takes the terminal differential pressure at rated flow. */
    private static double dueDays(LoopTrial trial) {
        VirtualUnit ahead = new VirtualUnit(trial.trial.spec(), TrialUnits.START);
        trial.unit.faults().forEach(ahead::addFault);
        double terminalPa = trial.trial.nameplate().filterTerminalDpPa();
        for (int hours = 0; hours < 24 * 400; hours += 6) {
            double most = ahead.truth().filterDpAtRatedPa().stream()
                    .mapToDouble(Double::doubleValue)
                    .max()
                    .orElseThrow();
            if (most >= terminalPa) {
                return hours / 24.0;
            }
            ahead.coarseStep(Duration.ofHours(6));
        }
        throw new IllegalStateException("no filter is due within 400 days: "
                + Arrays.toString(ahead.truth().filterLoading().toArray()));
    }
}
