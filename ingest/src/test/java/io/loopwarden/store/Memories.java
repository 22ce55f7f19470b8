package io.loopwarden.store;

import io.loopwarden.availability.Condition;
import io.loopwarden.availability.UnitLife;
import io.loopwarden.exchanger.ExchangerMemory;
import io.loopwarden.exchanger.ExchangerState;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.exchanger.FoulingUse;
import io.loopwarden.exchanger.SteadyState;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.hydraulics.LoopHistory;
import io.loopwarden.hydraulics.LoopReading;
import io.loopwarden.hydraulics.LoopReading.BranchFlow;
import io.loopwarden.hydraulics.LoopReading.PumpReading;
import io.loopwarden.hydraulics.LoopReading.ValveReading;
import io.loopwarden.indicator.PumpRecord;
import io.loopwarden.instruments.BalanceReading;
import io.loopwarden.instruments.DriftHistory;
import io.loopwarden.inventory.LeakMemory;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.watch.UnitMemory;
import io.loopwarden.watch.UnitWatch;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.stream.DoubleStream;

/** Memories for tests, of a unit with glycol on its rack side. */
final class Memories {

    static final UnitId UNIT = new UnitId("E-07");

    private static final Instant BEGIN = Instant.parse("2026-11-02T00:00:00Z");

    /** Two of the same coolant are not equal, so that there is one of each. */
    static final UnitMemory FRESH = fresh(0.25);

    static final UnitMemory OF_ANOTHER_COOLANT = fresh(0.35);

    private Memories() {}

    private static UnitMemory fresh(double glycolMassFraction) {
        return new UnitWatch(new Unit(UNIT, "east", "1", nameplate(glycolMassFraction))).memory();
    }

    private static Nameplate nameplate(double glycolMassFraction) {
        return new Nameplate(
                "Quillmere",
                "Q2",
                1.3e6,
                4,
                0.030,
                0.030,
                OptionalDouble.empty(),
                200e3,
                30,
                new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, glycolMassFraction),
                CoolantSpec.WATER,
                2,
                1,
                1,
                2,
                0.4,
                0.1,
                100e3,
                OptionalDouble.of(60),
                SensorClass.DEFAULT);
    }

    /** After so many days of hourly windows: learning for the first five, then a figure a day. */
    static UnitMemory after(int days) {
        Random random = new Random(5);
        FoulingHistory history = FRESH.fouling().orElseThrow();
        for (int hour = 0; hour < 24 * days; hour++) {
            double flow = 0.026 + 0.003 * random.nextDouble();
            ExchangerState measured = new ExchangerState(
                    flow, 0.95 * flow, 40 + random.nextGaussian() / 100, 32, 29, 37 + random.nextGaussian() / 100);
            Instant from = BEGIN.plus(Duration.ofHours(hour));
            List<Double> scatter = List.of(1e-5, 1e-5, 0.01, 0.01, 0.01, 0.01);
            history = history.after(new SteadyState(from, from.plus(Duration.ofMinutes(15)), measured, scatter));
        }
        PumpRecord pumps = new PumpRecord(Map.of(2, new PumpRecord.Seen(new Estimate(1.1 / 3, 0.1), BEGIN)));
        return new UnitMemory(
                Optional.of(history),
                pumps,
                loop(days, random),
                containment(),
                sensors(days, random),
                exchanger(days, random),
                life(days));
    }

    /** Up for all days but the last minutes. */
    private static UnitLife life(int days) {
        UnitLife life = UnitLife.NEW;
        for (int i = 0; i < 288 * days; i++) {
            boolean last = i == 288 * days - 1;
            life = life.after(
                    BEGIN.getEpochSecond() + 300.0 * i, 2026 * 12L + 10, last ? Condition.DOWN : Condition.RUNNING);
        }
        return life;
    }

    /** Pairs and heat balance every ten minutes. */
    private static DriftHistory sensors(int days, Random random) {
        DriftHistory sensors = DriftHistory.NEW;
        for (int i = 0; i < 144 * days; i++) {
            sensors = sensors.after(new BalanceReading(
                    BEGIN.getEpochSecond() + 600.0 * i,
                    Optional.of(0.1 + 0.01 * random.nextGaussian()),
                    Optional.of(0.01 * random.nextGaussian()),
                    Optional.empty(),
                    Optional.of(0.04 * random.nextGaussian()),
                    10 + random.nextDouble(),
                    1.02));
        }
        return sensors;
    }

    /** Readings every ten minutes; filters and a pump are learnt within two days. */
    private static LoopHistory loop(int days, Random random) {
        LoopHistory loop = FRESH.loop();
        for (int i = 0; i < 144 * days; i++) {
            double flow = 0.7 + 0.2 * random.nextDouble();
            BranchFlow branch = new BranchFlow(flow, flow * flow);
            double dpPa = 1e4 * flow * flow + 20 * random.nextGaussian();
            loop = loop.after(
                    new LoopReading(
                            BEGIN.getEpochSecond() + 600.0 * i,
                            Optional.of(flow - 0.2),
                            Optional.of(branch),
                            Optional.of(branch),
                            Map.of(1, dpPa, 2, 1.1 * dpPa),
                            Optional.of(dpPa),
                            Optional.of(180e3),
                            Optional.of(new PumpReading(
                                    1, 0.9, flow, 3e5, Optional.of(9e3), 1e-3 * random.nextDouble(), Optional.empty())),
                            Optional.of(new ValveReading(0.4 + flow / 10, 10 / flow))),
                    nameplate(0.25));
        }
        return loop.withRunning(BEGIN.getEpochSecond(), List.of(1)).withRunning(BEGIN.getEpochSecond(), List.of(2));
    }

    private static LeakMemory containment() {
        List<Double> sixteen =
                DoubleStream.iterate(1 / 3.0, x -> x / 3).limit(16).boxed().toList();
        return new LeakMemory(
                BEGIN.getEpochSecond(),
                Optional.of(new LeakMemory.FilterState(
                        List.of(91.2, 0.41, 1 / 3.0, 2.5), sixteen, List.of(1.0, -0.4, 1.9, -0.5), 1.02)),
                -12.5,
                Optional.of(0.0125),
                0.0019,
                0.0005,
                0.81,
                List.of(0.0031, 2.3e-6, 8800.0),
                List.of(300.0, 4.1, 1290.0, 420000.0),
                Optional.of(new LeakMemory.Loss(
                        BEGIN.getEpochSecond() - 4000, false, 6.5, 93.3, 1.25, 0.1, 2.1, 0.3, false, 0)),
                List.of(new LeakMemory.Applied("6f1f7d1e-0f3b-4a86-9d0a-7cf0b7a3a111", -20)));
    }

    private static ExchangerMemory exchanger(int days, Random random) {
        ExchangerMemory memory = ExchangerMemory.EMPTY;
        for (int hour = 0; hour < 24 * days; hour++) {
            Instant at = BEGIN.plus(Duration.ofHours(hour));
            double flow = 0.7 + 0.2 * random.nextDouble();
            memory = new ExchangerMemory(
                    memory.sides().after(at, Optional.of(4e4 * flow), flow, Optional.of(3e4 * flow), flow),
                    memory.draw().after(at, new FoulingUse(1e-3 * random.nextDouble(), 0.1), 1.2e5, 1e6 * flow));
        }
        return memory;
    }
}
