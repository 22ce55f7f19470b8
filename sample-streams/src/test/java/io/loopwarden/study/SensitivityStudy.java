package io.loopwarden.study;

import io.loopwarden.exchanger.FoulingTrend;
import io.loopwarden.study.WatchedUnit.Hour;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** How soon growing deposits are called, while the controller holds the approach where it was. */
final class SensitivityStudy {

    private static final int COMMISSIONING_DAYS = 5;
    private static final int GROWTH_DAYS = 14;
    private static final int NEVER = 99;

    /** A plain daily figure calls at this many standard deviations of its own commissioning days below their mean. */
    private static final double PLAIN_SCORE = 3;

    private final TrialUnits units;
    private final List<Picture.Row> curves = new ArrayList<>();

    SensitivityStudy(TrialUnits units) {
        this.units = units;
    }

    /**
     * One unit whose deposits take a share of its clean UA in 14 days.
     *
     * @param calledOnDay days from the beginning of growth to the call
     * @param plainOnDay the same by the ratio of plain UA to its mean over commissioning
     * @param approachMovedK by which the daily mean of the shown approach moved at most
     */
    record Growth(int calledOnDay, int plainOnDay, double approachMovedK) {}

    List<Finding> run(long seed, int trials) {
        List<Finding> findings = new ArrayList<>();
        curves.clear();
        findings(findings, Trials.run(seed, 2, trials, r -> growth(0.05, r)), "5 % of UA in 14 days", 7);
        findings(findings, Trials.run(seed, 3, trials, r -> growth(0.03, r)), "3 % of UA in 14 days", 14);
        List<Growth> none = Trials.run(seed, 4, trials, r -> growth(0, r));
        findings.add(Finding.told(
                "false calls in 14 clean days: plain ratio of UA to its mean",
                share(none.stream().mapToInt(Growth::plainOnDay).toArray(), GROWTH_DAYS),
                "%"));
        findings.add(Finding.told(
                "false calls in 14 clean days: fouling",
                share(none.stream().mapToInt(Growth::calledOnDay).toArray(), GROWTH_DAYS),
                "%"));
        return findings;
    }

    private void findings(List<Finding> findings, List<Growth> all, String what, int within) {
        int[] called = all.stream().mapToInt(Growth::calledOnDay).toArray();
        curves.add(new Picture.Row(what.replace(" in 14 days", ""), cumulative(called)));
        findings.add(Finding.of(
                what + ": called within " + within + " days", share(called, within), "%", ">= 95", f -> f >= 95));
        findings.add(Finding.told("    median day of the call", median(called), "d"));
        int[] plain = all.stream().mapToInt(Growth::plainOnDay).toArray();
        curves.add(new Picture.Row("plain, " + what.substring(0, 3), cumulative(plain)));
        findings.add(Finding.told("    called within " + within + " by the plain ratio", share(plain, within), "%"));
        double moved = all.stream().mapToDouble(Growth::approachMovedK).max().orElseThrow();
        findings.add(Finding.told("    largest move of the shown approach meanwhile, daily means", moved, "K"));
    }

    private static double[] cumulative(int[] days) {
        double[] shares = new double[GROWTH_DAYS + 1];
        for (int day = 0; day <= GROWTH_DAYS; day++) {
            shares[day] = share(days, day);
        }
        return shares;
    }

    /** Of the last run. */
    Picture picture() {
        return Picture.steps(
                "Delay of the call",
                "Share of units called fouled so many days after deposits began, by this and by the plain ratio of UA to its mean,"
                        + " which also calls clean units (see the table).",
                "days",
                "% of units",
                curves);
    }

    private static double share(int[] days, int within) {
        int n = 0;
        for (int day : days) {
            n += day <= within ? 1 : 0;
        }
        return 100.0 * n / days.length;
    }

    private static double median(int[] days) {
        int[] sorted = days.clone();
        java.util.Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }

    Growth growth(double shareOfUa, Random random) {
        WatchedUnit watched = new WatchedUnit(units.partLoad(random));
        double[] before = new double[COMMISSIONING_DAYS];
        double approach = 0;
        double cleanResistance = 0;
        for (int day = 0; day < COMMISSIONING_DAYS; day++) {
            Day d = day(watched);
            before[day] = d.plainUaWPerK;
            approach += d.approachK / COMMISSIONING_DAYS;
            cleanResistance += 1 / watched.unit().truth().cleanUaWPerK() / COMMISSIONING_DAYS;
        }
        double area = watched.unit().spec().plant().plateAreaM2();
        double atEnd = cleanResistance * area * shareOfUa / (1 - shareOfUa);
        watched.unit().addFault(TrialUnits.linear(watched.unit().now(), atEnd / GROWTH_DAYS));
        double mean = java.util.Arrays.stream(before).average().orElseThrow();
        double deviation = Math.sqrt(java.util.Arrays.stream(before)
                        .map(b -> (b - mean) * (b - mean))
                        .sum()
                / (COMMISSIONING_DAYS - 1));
        int called = NEVER;
        int plain = NEVER;
        double moved = 0;
        for (int day = 1; day <= GROWTH_DAYS; day++) {
            Day d = day(watched);
            moved = Math.max(moved, Math.abs(d.approachK - approach));
            if (plain == NEVER && d.plainUaWPerK < mean - PLAIN_SCORE * deviation) {
                plain = day;
            }
            if (called == NEVER && FoulingTrend.fouled(watched.history()).fold(yes -> yes, gap -> false)) {
                called = day;
            }
        }
        return new Growth(called, plain, moved);
    }

    private record Day(double plainUaWPerK, double approachK) {}

    private static Day day(WatchedUnit watched) {
        double ua = 0;
        int n = 0;
        double approach = 0;
        for (int hour = 0; hour < 24; hour++) {
            Hour h = watched.nextHour();
            approach += h.shownApproachK() / 24;
            if (h.plainUaWPerK().isPresent()) {
                ua += h.plainUaWPerK().getAsDouble();
                n++;
            }
        }
        return new Day(n == 0 ? 0 : ua / n, approach);
    }
}
