package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.DailyTrack;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;

/**
 * What deposits take from the facility, day by day.
 *
 * @param extraPumpingW hydraulic power of the facility water that a clean exchanger would not need
 * @param colderByK what facility water would have to be colder by at unchanged flow
 * @param dutyW heat moved
 */
public record FoulingDraw(DailyTrack extraPumpingW, DailyTrack colderByK, DailyTrack dutyW) {

    public static final FoulingDraw NONE = new FoulingDraw(DailyTrack.EMPTY, DailyTrack.EMPTY, DailyTrack.EMPTY);

    private static final int WEEK = 7;

    public FoulingDraw after(Instant at, FoulingUse use, double fwsDpPa, double heatW) {
        double epochS = at.getEpochSecond();
        return new FoulingDraw(
                extraPumpingW.with(epochS, use.extraFlowM3PerS() * fwsDpPa),
                colderByK.with(epochS, use.colderByK()),
                dutyW.with(epochS, heatW));
    }

    /** What that costs, from the mean of the last week, at the fouling that there is. */
    public CleaningPlan plan(
            Instant at, Computed<Estimate> level, Computed<Double> growthKPerWPerDay, CleaningCosts costs) {
        return CleaningPlan.of(
                mean(extraPumpingW, at), mean(colderByK, at), mean(dutyW, at), level, growthKPerWPerDay, costs);
    }

    private static Computed<Double> mean(DailyTrack track, Instant at) {
        return track.level(0, at.getEpochSecond(), WEEK).map(Estimate::value);
    }
}
