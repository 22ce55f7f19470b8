package io.loopwarden.study;

import java.util.OptionalDouble;
import java.util.function.DoublePredicate;

/**
 * One figure of a study.
 *
 * @param goal in words; empty where the figure is for information
 * @param holds whether the goal is met; true where there is none
 * @param spread standard error of the figure, where units differ
 */
record Finding(String what, double figure, OptionalDouble spread, String unit, String goal, boolean holds) {

    static Finding of(String what, double figure, String unit, String goal, DoublePredicate met) {
        return new Finding(what, figure, OptionalDouble.empty(), unit, goal, met.test(figure));
    }

    static Finding told(String what, double figure, String unit) {
        return new Finding(what, figure, OptionalDouble.empty(), unit, "", true);
    }

    static Finding within(String what, double figure, double spread, String unit, double low, double high) {
        String goal = Report.number(low) + " to " + Report.number(high);
        return new Finding(what, figure, OptionalDouble.of(spread), unit, goal, figure >= low && figure <= high);
    }
}
