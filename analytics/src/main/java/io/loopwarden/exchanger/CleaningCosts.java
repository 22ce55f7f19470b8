package io.loopwarden.exchanger;

/**
 * What cleaning and not cleaning cost, free of currency: everything in kilowatt hours of electricity, so that only ratios count.
 * The defaults are common practice, no source: put in your own.
 *
 * @param cleaningKWh one cleaning, outage and labour included
 * @param pumpEfficiencyRatio from electricity to facility water, 0 to 1
 * @param freeCoolingHoursPerK hours a week in which the heat sink is not more than 1 K colder than it has to be: lost for each kelvin
 *     that facility water has to be colder
 * @param chillerRatio electricity over heat in an hour without free cooling
 */
public record CleaningCosts(
        double cleaningKWh, double pumpEfficiencyRatio, double freeCoolingHoursPerK, double chillerRatio) {

    public static final CleaningCosts DEFAULT = new CleaningCosts(5000, 0.6, 4, 0.2);

    public CleaningCosts {
        requireWithin("cost of a cleaning (kWh)", cleaningKWh, 1, 1e7);
        requireWithin("efficiency of the facility pumps", pumpEfficiencyRatio, 0.1, 1);
        requireWithin("free-cooling hours a week and kelvin", freeCoolingHoursPerK, 0, 168);
        requireWithin("electricity over heat without free cooling", chillerRatio, 0, 1);
    }

    private static void requireWithin(String name, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            throw new IllegalArgumentException(name + " is " + value + ", must be " + least + " to " + most);
        }
    }
}
