package io.loopwarden.virtual.plant;

/**
 * What a hall and its racks ask of a unit over time: a daily course, a forecast run every six hours (a plateau of a bit over two
 * hours with ramps), noise of our own; facility water that follows the weather and the neighbours.
 *
 * @param hallSeed the same for all units of a hall
 * @param unitSeed of this unit alone
 * @param baseLoad heat relative to rated duty, between runs
 * @param runLoad what a forecast run adds
 * @param fwsSupplyC mean facility supply temperature
 * @param fwsDpPa mean facility differential pressure
 */
public record Site(
        long hallSeed,
        long unitSeed,
        double ratedDutyW,
        double baseLoad,
        double runLoad,
        double fwsSupplyC,
        double fwsDpPa) {

    private static final double RUN_EVERY_S = 6 * 3600;
    private static final double RUN_LASTS_S = 8400;
    private static final double RAMP_S = 600;
    private static final double LEAST_CONDUCTANCE = 0.78;

    public Surroundings at(double epochS) {
        double load = load(epochS);
        double conductance = LEAST_CONDUCTANCE + (1 - LEAST_CONDUCTANCE) * Math.min(1, load);
        return new Surroundings(load * ratedDutyW, conductance, fwsSupply(epochS), fwsDp(epochS));
    }

    double load(double epochS) {
        double load = baseLoad
                + 0.03 * dayWave(epochS, 15)
                + runLoad * run(epochS - (unitSeed & 0xFF))
                + 0.02 * SmoothNoise.at(unitSeed, epochS, 5400)
                + 0.006 * SmoothNoise.at(unitSeed + 1, epochS, 90);
        return Math.max(0.03, load);
    }

    /** A trapezoid, 0 to 1: a run begins 90 minutes after each main observation time (00, 06, 12, 18 UTC). */
    static double run(double epochS) {
        double since = Math.floorMod((long) epochS - 5400, (long) RUN_EVERY_S) + epochS - Math.floor(epochS);
        if (since < RAMP_S) {
            return since / RAMP_S;
        }
        return since < RUN_LASTS_S ? 1 : Math.max(0, 1 - (since - RUN_LASTS_S) / RAMP_S);
    }

    private double fwsSupply(double epochS) {
        return fwsSupplyC
                + 0.8 * dayWave(epochS, 16)
                + 1.0 * SmoothNoise.at(hallSeed, epochS, 8 * 3600)
                + 0.06 * SmoothNoise.at(hallSeed + 1, epochS, 600);
    }

    private double fwsDp(double epochS) {
        return fwsDpPa
                * (1
                        + 0.04 * SmoothNoise.at(hallSeed + 2, epochS, 3 * 3600)
                        + 0.01 * SmoothNoise.at(hallSeed + 3, epochS, 120)
                        - 0.05 * run(epochS));
    }

    private static double dayWave(double epochS, double peakHour) {
        return Math.cos(2 * Math.PI * (epochS / 86400 - peakHour / 24));
    }
}
