package io.loopwarden.watch;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.indicator.Rig;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Random;

/** A watch on the test bench, fed with one sample a second of each point around levels that a test may change. */
final class Bench {

    static final Instant START = Instant.parse("2026-11-25T10:00:00Z");

    final UnitWatch watch;
    final Map<PointName, Double> levels = new LinkedHashMap<>();
    final Map<PointName, Double> noise = new LinkedHashMap<>();
    private final Random random = new Random(7);
    private Instant now = START;

    /** Water on water at 1.0 MW and 4 K, capacity rates in balance to a few tenths of a percent. */
    Bench(SensorClass sensors) {
        watch = new UnitWatch(
                new Unit(new UnitId("E-07"), "centre", "east", Rig.nameplate(CoolantSpec.WATER, sensors)));
        level(Points.TCS_RETURN_TEMPERATURE, 44, 0.02);
        level(Points.TCS_SUPPLY_TEMPERATURE, 34, 0.02);
        level(Points.FWS_SUPPLY_TEMPERATURE, 30, 0.02);
        level(Points.FWS_RETURN_TEMPERATURE, 40, 0.02);
        level(Points.TCS_FLOW, 0.0242, 0.00005);
        level(Points.FWS_FLOW, 0.0242, 0.00005);
        level(Points.FWS_VALVE_POSITION, 0.71, 0.002);
        level(Points.FWS_DP, 118_000, 300);
        level(Points.TCS_DP, 200_000, 300);
    }

    void level(PointName point, double value, double sigma) {
        levels.put(point, value);
        noise.put(point, sigma);
    }

    Instant now() {
        return now;
    }

    Sample next(PointName point) {
        return Sample.good(point, now, levels.get(point) + noise.get(point) * random.nextGaussian());
    }

    /** Runs for so many seconds. */
    void run(int seconds) {
        for (int i = 0; i < seconds; i++) {
            now = now.plusSeconds(1);
            levels.keySet().forEach(point -> watch.accept(next(point)));
        }
    }

    UnitFigures evaluate() {
        return watch.evaluate(now);
    }
}
