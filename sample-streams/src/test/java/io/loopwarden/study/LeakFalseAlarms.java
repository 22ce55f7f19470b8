package io.loopwarden.study;

import io.loopwarden.inventory.LeakSettings;
import io.loopwarden.study.LoopTruth.Conditions;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;

/** Calls without a leak: of the content on unit-years of every disturbance, and of the bursts' seconds. */
final class LeakFalseAlarms {

    private static final double DAY_S = 86400;
    private static final double YEAR_S = 365.25 * DAY_S;
    /** A call within so long of the last one is the same alarm. */
    private static final double SAME_ALARM_S = DAY_S;

    private static final int DECADE = 10;
    /** Bursts are counted at a limit that is passed often, then scaled: at the limit in use none would be seen in any trial. */
    private static final double COUNTED_BURST_YEARS = 0.005;

    private LeakFalseAlarms() {}

    static List<Finding> run(long seed, double unitYears, double burstUnitYears) {
        int units = (int) Math.max(1, Math.round(unitYears));
        double days = 365.25 * unitYears / units;
        List<Integer> alarms =
                Trials.run(seed, 11, units, r -> alarms(r, Conditions.ALL, LeakSettings.DEFAULT, days * DAY_S, 60));
        double slow = alarms.stream().mapToInt(i -> i).sum() * DECADE / unitYears;
        int parts = 20;
        List<Integer> bursts = Trials.run(
                seed, 12, parts, r -> alarms(r, Conditions.CALM, oftenBurst(), burstUnitYears / parts * YEAR_S, 1));
        double counted = bursts.stream().mapToInt(i -> i).sum() / burstUnitYears;
        double asDeclared = counted * COUNTED_BURST_YEARS;
        double quick = asDeclared / LeakSettings.DEFAULT.falseBurstYears() * DECADE;
        return List.of(
                Finding.told(
                        "false alarms of the content, " + Math.round(unitYears) + " unit-years at 1 min",
                        slow,
                        "/10 a"),
                Finding.told("false bursts, of what their limit is set for (counted on seconds)", asDeclared, "1"),
                Finding.told("false bursts at the limit in use, level every second", quick, "/10 a"),
                Finding.of("false alarms together, in 10 unit-years", slow + quick, "/10 a", "< 1", f -> f < 1));
    }

    private static LeakSettings oftenBurst() {
        LeakSettings d = LeakSettings.DEFAULT;
        return new LeakSettings(
                d.falseAlarmYears(),
                COUNTED_BURST_YEARS,
                d.toleratedLossPerH(),
                d.wanderPerRootH(),
                d.levelNoiseRatio(),
                d.lowLevelRatio(),
                d.lossesPerYear(),
                d.crossPerYear(),
                d.jumpsPerYear(),
                d.sensorDriftsPerYear(),
                d.falseWetsPerYear(),
                d.leastRateLPerH(),
                d.mostRateLPerH());
    }

    private static int alarms(Random random, Conditions conditions, LeakSettings settings, double seconds, double dt) {
        LeakTrial trial =
                new LeakTrial(new SplittableRandom(random.nextLong()), conditions, LeakTrial.LEVEL_ONLY, settings);
        double sameS = dt < 60 ? 120 : SAME_ALARM_S;
        int alarms = 0;
        double last = -1e12;
        for (double s = 0; s < seconds; s += dt) {
            trial.step(dt);
            if (trial.watch.called()) {
                alarms += s - last > sameS ? 1 : 0;
                last = s;
            }
        }
        return alarms;
    }
}
