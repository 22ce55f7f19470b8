package io.loopwarden.watch;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.indicator.Rig;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;

/** A watch on the test bench, fed with one sample a second of each point from signals that a test may change. */
final class Bench {

    static final Instant START = Instant.parse("2026-11-25T10:00:00Z");
    static final Unit UNIT = unit(SensorClass.DEFAULT);

    final UnitWatch watch = new UnitWatch(UNIT);
    private final Map<PointName, DoubleUnaryOperator> signals = new LinkedHashMap<>();
    private final Random random = new Random(7);
    private int seconds;

    /** Water on water at 1.0 MW and 4 K, capacity rates in balance to a few tenths of a percent. */
    Bench() {
        level(Points.TCS_RETURN_TEMPERATURE, 44, 0.02);
        level(Points.TCS_SUPPLY_TEMPERATURE, 34, 0.02);
        level(Points.FWS_SUPPLY_TEMPERATURE, 30, 0.02);
        level(Points.FWS_RETURN_TEMPERATURE, 40, 0.02);
        level(Points.TCS_FLOW, 0.0242, 0.00005);
        level(Points.FWS_FLOW, 0.0242, 0.00005);
        level(Points.FWS_VALVE_POSITION, 0.71, 0.002);
        level(Points.FWS_DP, 118_000, 300);
        level(Points.TCS_DP, 200_000, 300);
        level(Points.TCS_DP_SETPOINT, 200_000, 0);
        level(Points.APPROACH_SETPOINT, 4, 0);
        for (int filter = 1; filter <= 4; filter++) {
            level(Points.numbered("tcs.filter.{n}.dp", filter), 14_000 + 1000 * filter, 80);
        }
        level(Points.numbered("pump.{n}.speed", 1), 0.8, 0.0005);
        level(Points.numbered("pump.{n}.power", 1), 9000, 30);
        level(Points.numbered("pump.{n}.dp", 1), 262_000, 300);
        level(Points.numbered("pump.{n}.speed", 2), 0, 0);
    }

    static Unit unit(SensorClass sensors) {
        return new Unit(new UnitId("E-07"), "centre", "east", Rig.nameplate(CoolantSpec.WATER, sensors));
    }

    void level(PointName point, double value, double sigma) {
        signal(point, t -> value + sigma * random.nextGaussian());
    }

    /** A signal over seconds since the start. */
    void signal(PointName point, DoubleUnaryOperator valueAt) {
        signals.put(point, valueAt);
    }

    double noise(double sigma) {
        return sigma * random.nextGaussian();
    }

    void silence(PointName point) {
        signals.remove(point);
    }

    Instant now() {
        return START.plusSeconds(seconds);
    }

    List<Sample> nextSecond() {
        seconds++;
        List<Sample> samples = new ArrayList<>();
        signals.forEach((point, valueAt) -> samples.add(Sample.good(point, now(), valueAt.applyAsDouble(seconds))));
        return samples;
    }

    List<Sample> record(int forSeconds) {
        List<Sample> samples = new ArrayList<>();
        for (int i = 0; i < forSeconds; i++) {
            samples.addAll(nextSecond());
        }
        return samples;
    }

    void run(int forSeconds) {
        record(forSeconds).forEach(watch::accept);
    }

    UnitFigures evaluate() {
        return watch.evaluate(now());
    }

    Computed<Estimate> figure(String key) {
        return result(key).value();
    }

    IndicatorResult result(String key) {
        return evaluate().result(key).orElseThrow();
    }

    Reason reason(String key) {
        return figure(key)
                .fold(
                        v -> {
                            throw new AssertionError(key + " is available: " + v);
                        },
                        Computed.Unavailable::reason);
    }

    String detail(String key) {
        return figure(key).fold(v -> "available: " + v, Computed.Unavailable::detail);
    }
}
