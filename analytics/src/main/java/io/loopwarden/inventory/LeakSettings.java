package io.loopwarden.inventory;

/**
 * Error rates, prior knowledge and limits of the leak suspicion. How often what happens is common practice, no source: a site that
 * knows better sets its own.
 *
 * @param falseAlarmYears wanted mean time between false calls of one unit, for each of the inventory's time scales
 * @param falseBurstYears the same for bursts, whose seconds count
 * @param toleratedLossPerH loss that counts as ordinary, of the loop's volume an hour
 * @param wanderPerRootH standard deviation of the content that no loss explains, of the loop's volume a root hour: 0.1 K of unseen
 *     mean temperature
 * @param levelNoiseRatio deviation of one level value, until it is learnt
 * @param lowLevelRatio level at which the pumps trip
 * @param lossesPerYear external leaks of a unit
 * @param crossPerYear leaks between the loops
 * @param jumpsPerYear amounts that somebody drains or spills without an entry
 * @param sensorDriftsPerYear faults of the level sensor that look like a slow loss
 * @param falseWetsPerYear wet switches without a leak
 * @param leastRateLPerH smallest rate thought of
 * @param mostRateLPerH largest rate thought of
 */
public record LeakSettings(
        double falseAlarmYears,
        double falseBurstYears,
        double toleratedLossPerH,
        double wanderPerRootH,
        double levelNoiseRatio,
        double lowLevelRatio,
        double lossesPerYear,
        double crossPerYear,
        double jumpsPerYear,
        double sensorDriftsPerYear,
        double falseWetsPerYear,
        double leastRateLPerH,
        double mostRateLPerH) {

    public static final LeakSettings DEFAULT =
            new LeakSettings(400, 40, 2.5e-5, 4e-5, 0.002, 0.1, 0.05, 0.01, 0.1, 0.02, 0.05, 0.03, 3000);

    public LeakSettings {
        requireWithin("years between false alarms", falseAlarmYears, 0.1, 1e5);
        requireWithin("years between false bursts", falseBurstYears, 1e-4, 1e5);
        requireWithin("tolerated loss", toleratedLossPerH, 0, 0.01);
        requireWithin("wander", wanderPerRootH, 1e-7, 0.01);
        requireWithin("level noise", levelNoiseRatio, 1e-6, 0.2);
        requireWithin("low level", lowLevelRatio, 0, 0.9);
        requireWithin("losses a year", lossesPerYear, 1e-6, 1e4);
        requireWithin("cross leaks a year", crossPerYear, 1e-6, 1e4);
        requireWithin("jumps a year", jumpsPerYear, 1e-6, 1e4);
        requireWithin("sensor drifts a year", sensorDriftsPerYear, 1e-6, 1e4);
        requireWithin("false wets a year", falseWetsPerYear, 1e-6, 1e4);
        requireWithin("least rate", leastRateLPerH, 1e-4, 100);
        requireWithin("most rate", mostRateLPerH, 10 * leastRateLPerH, 1e6);
    }

    private static void requireWithin(String name, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            throw new IllegalArgumentException(name + " is " + value + ", must be " + least + " to " + most);
        }
    }
}
