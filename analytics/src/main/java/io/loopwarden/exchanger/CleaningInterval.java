package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import java.util.function.DoubleUnaryOperator;

/**
 * When to clean so that cost per day is least: renewal at age T costs (cleaning + ∫ running cost)/T, and the least lies
 * where the running cost of one more day first exceeds the average so far (Barlow and Proschan, <i>Mathematical Theory of
 * Reliability</i>, 1965, chapter 4).
 *
 * @param days age at which to clean
 * @param costPerDay average over such a cycle, in the unit of the inputs
 */
public record CleaningInterval(int days, double costPerDay) {

    /**
     * @param runningCostPerDay cost that fouling causes on a day of that age, growing with age
     * @param cleaningCost cost of one cleaning, in the same unit
     * @param mostDays longest interval that still counts as an answer
     */
    public static Computed<CleaningInterval> best(
            DoubleUnaryOperator runningCostPerDay, double cleaningCost, int mostDays) {
        if (!(cleaningCost > 0) || Double.isInfinite(cleaningCost)) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE, "cost of a cleaning is " + cleaningCost + ", must be finite and above 0");
        }
        double spent = cleaningCost;
        for (int day = 1; day <= mostDays; day++) {
            double today = runningCostPerDay.applyAsDouble(day - 0.5);
            if (!Double.isFinite(today)) {
                return Computed.unavailable(
                        Reason.INPUT_IMPLAUSIBLE, "running cost on day " + day + " is " + today + ", must be finite");
            }
            if (day > 1 && today > spent / (day - 1)) {
                return Computed.of(new CleaningInterval(day - 1, spent / (day - 1)));
            }
            spent += today;
        }
        return Computed.unavailable(
                Reason.NOT_OBSERVABLE, "cleaning does not pay within " + mostDays + " days at the present growth");
    }
}
