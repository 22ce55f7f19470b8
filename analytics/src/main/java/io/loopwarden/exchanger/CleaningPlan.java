package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;

/**
 * What fouling costs now and when to clean.
 *
 * @param pumpingKWhPerWeek extra energy of the facility pumps
 * @param lostFreeCoolingHPerWeek hours of free cooling that colder facility water costs
 * @param interval from cleaning to cleaning, at the present growth
 */
public record CleaningPlan(
        Computed<Estimate> pumpingKWhPerWeek,
        Computed<Estimate> lostFreeCoolingHPerWeek,
        Computed<CleaningInterval> interval) {

    private static final int MOST_DAYS = 3650;
    private static final double HOURS_PER_WEEK = 168;
    private static final double DAYS_PER_WEEK = 7;

    /** Fouling below this many standard uncertainties costs nothing that could be told. */
    private static final double KNOWN_SCORE = 2;

    /**
     * @param extraPumpingW hydraulic power of the extra facility water, mean of the latest days
     * @param colderByK mean of the same days
     * @param dutyW mean duty of these days
     * @param level fouling now
     * @param growthKPerWPerDay of fouling
     */
    public static CleaningPlan of(
            Computed<Double> extraPumpingW,
            Computed<Double> colderByK,
            Computed<Double> dutyW,
            Computed<Estimate> level,
            Computed<Double> growthKPerWPerDay,
            CleaningCosts costs) {
        Computed<Estimate> known = level.flatMap(CleaningPlan::known);
        Computed<Estimate> pumping = known.flatMap(
                r -> extraPumpingW.map(w -> relative(w / 1000 * HOURS_PER_WEEK / costs.pumpEfficiencyRatio(), r)));
        Computed<Estimate> hours =
                known.flatMap(r -> colderByK.map(k -> relative(k * costs.freeCoolingHoursPerK(), r)));
        Computed<CleaningInterval> interval =
                known.flatMap(r -> growthKPerWPerDay.flatMap(growth -> hours.flatMap(h -> dutyW.flatMap(q -> {
                    double pumpsKWh = pumping.fold(Estimate::value, gap -> 0.0);
                    double perWeek = pumpsKWh + h.value() * costs.chillerRatio() * q / 1000;
                    // cost is taken as proportional to fouling, and fouling as growing evenly from clean
                    double perDayOfAge = perWeek / DAYS_PER_WEEK / r.value() * growth;
                    return CleaningInterval.best(age -> perDayOfAge * age, costs.cleaningKWh(), MOST_DAYS);
                }))));
        return new CleaningPlan(pumping, hours, interval);
    }

    private static Computed<Estimate> known(Estimate fouling) {
        return fouling.value() > KNOWN_SCORE * fouling.standardUncertainty()
                ? Computed.of(fouling)
                : Computed.unavailable(
                        Reason.NOT_OBSERVABLE,
                        "Deposits are too thin to tell what they cost: less than twice their error.");
    }

    private static Estimate relative(double value, Estimate fouling) {
        return new Estimate(value, Math.abs(value) * fouling.standardUncertainty() / fouling.value());
    }
}
