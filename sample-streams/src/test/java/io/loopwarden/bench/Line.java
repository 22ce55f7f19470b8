package io.loopwarden.bench;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * One line of a benchmark: ours, the plain way, and what was asked.
 *
 * @param ratio how many times as good as the plain way, run by run
 * @param goal in words; empty where the figure is for information
 * @param holds empty where there is no goal
 */
record Line(
        String what, Runs ours, Optional<Runs> plain, String unit, Optional<Runs> ratio, String goal, Verdict holds) {

    /** Whether the goal is met. */
    enum Verdict {
        YES,
        NO,
        NONE;

        static Verdict of(boolean holds) {
            return holds ? YES : NO;
        }
    }

    /** A rate, the larger the better. */
    static Line rate(String what, Runs ours, Runs plain, String unit, double least) {
        Runs ratio = ours.over(plain);
        return new Line(
                what,
                ours,
                Optional.of(plain),
                unit,
                Optional.of(ratio),
                ">= " + Sheet.number(least) + " x",
                Verdict.of(ratio.median() >= least));
    }

    /** A time, the shorter the better. */
    static Line time(String what, Runs ours, Runs plain, String unit, double least) {
        Runs ratio = plain.over(ours);
        return new Line(
                what,
                ours,
                Optional.of(plain),
                unit,
                Optional.of(ratio),
                ">= " + Sheet.number(least) + " x",
                Verdict.of(ratio.median() >= least));
    }

    static Line atMost(String what, Runs ours, String unit, double limit) {
        return new Line(
                what,
                ours,
                Optional.empty(),
                unit,
                Optional.empty(),
                "<= " + Sheet.number(limit) + " " + unit,
                Verdict.of(ours.median() <= limit));
    }

    /** Something that costs so many times what another costs, the less the better. */
    static Line costs(String what, Runs ours, Runs plain, String unit, double most) {
        Runs ratio = ours.over(plain);
        return new Line(
                what,
                ours,
                Optional.of(plain),
                unit,
                Optional.of(ratio),
                "<= " + Sheet.number(most) + " x",
                Verdict.of(ratio.median() <= most));
    }

    /** For information. */
    static Line told(String what, Runs ours, String unit) {
        return new Line(what, ours, Optional.empty(), unit, Optional.empty(), "", Verdict.NONE);
    }

    Map<String, Object> json() {
        Map<String, Object> row = new LinkedHashMap<>();
        row.put("what", what);
        row.put("ours", ours.median());
        row.put("baseline", plain.map(Runs::median).orElse(null));
        row.put("unit", unit);
        row.put("ratio", ratio.map(Runs::median).orElse(null));
        row.put("goal", goal.isEmpty() ? null : goal);
        row.put("holds", holds == Verdict.NONE ? null : holds == Verdict.YES);
        Map<String, Object> runs = new LinkedHashMap<>();
        runs.put("ours", ours.values());
        plain.ifPresent(p -> runs.put("baseline", p.values()));
        row.put("runs", runs);
        return row;
    }
}
