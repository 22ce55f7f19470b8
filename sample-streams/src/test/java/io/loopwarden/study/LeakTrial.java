package io.loopwarden.study;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.inventory.LeakSettings;
import io.loopwarden.inventory.LeakSuspicion;
import io.loopwarden.inventory.LoopPoint;
import io.loopwarden.study.LoopTruth.Conditions;
import io.loopwarden.watch.ContainmentWatch;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.stream.Stream;

/** A loop whose truth is known, and the watch over it, fed at an even sampling. */
final class LeakTrial {

    static final List<LoopPoint> LEVEL_ONLY = List.of(
            LoopPoint.LEVEL,
            LoopPoint.SUPPLY_TEMPERATURE,
            LoopPoint.RETURN_TEMPERATURE,
            LoopPoint.SPEED_1,
            LoopPoint.MAKEUP_VOLUME);

    static final List<LoopPoint> WITH_FLOWS = Stream.concat(
                    LEVEL_ONLY.stream(), Stream.of(LoopPoint.FLOW, LoopPoint.RETURN_FLOW))
            .toList();

    static final List<LoopPoint> WITH_TRAY =
            Stream.concat(LEVEL_ONLY.stream(), Stream.of(LoopPoint.TRAY)).toList();

    static final List<LoopPoint> WITH_PRESSURES = Stream.concat(
                    LEVEL_ONLY.stream(), Stream.of(LoopPoint.SUPPLY_PRESSURE, LoopPoint.FWS_PRESSURE))
            .toList();

    private static final long START_MS = 1_795_600_800_000L;

    final LoopTruth truth;
    final ContainmentWatch watch;
    private final List<LoopPoint> points;
    private boolean levelComes = true;

    LeakTrial(SplittableRandom random, Conditions conditions, List<LoopPoint> points, LeakSettings settings) {
        boolean glycol = random.nextBoolean();
        this.truth = new LoopTruth(random, conditions, glycol);
        this.points = points;
        this.watch = new ContainmentWatch(nameplate(glycol), settings);
    }

    /** Loop and reservoir are what the nameplate says; how the loop follows which temperature it does not say. */
    private static Nameplate nameplate(boolean glycol) {
        CoolantSpec coolant = glycol ? new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, 0.25) : CoolantSpec.WATER;
        return new Nameplate(
                "Quillmere",
                "study",
                4e5,
                4,
                LoopTruth.RATED_FLOW_M3_PER_S,
                0.009,
                OptionalDouble.empty(),
                200e3,
                30,
                coolant,
                CoolantSpec.WATER,
                2,
                1,
                1,
                2,
                LoopTruth.LOOP_L * 1e-3,
                LoopTruth.RESERVOIR_L * 1e-3,
                20e3,
                OptionalDouble.empty(),
                SensorClass.DEFAULT);
    }

    long nowMs() {
        return START_MS + Math.round(truth.timeS() * 1000);
    }

    void step(double dt) {
        truth.step(dt);
        show();
    }

    /** The level no longer comes. */
    void silenceLevel() {
        levelComes = false;
    }

    private void show() {
        long at = nowMs();
        for (LoopPoint point : points) {
            if (point == LoopPoint.LEVEL && !levelComes) {
                continue;
            }
            watch.accept(point, at, truth.shown(point), true);
        }
    }

    LeakSuspicion suspicion() {
        return watch.suspicion().fold(s -> s, gap -> {
            throw new IllegalStateException(gap.detail());
        });
    }

    /** Runs for some time at an even sampling. */
    void run(double seconds, double dt) {
        for (double s = 0; s < seconds - 1e-9; s += dt) {
            step(dt);
        }
    }
}
