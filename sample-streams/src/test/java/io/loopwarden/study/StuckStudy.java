package io.loopwarden.study;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.instruments.Trust;
import io.loopwarden.instruments.Trust.Finding;
import io.loopwarden.virtual.fault.FaultKind;
import io.loopwarden.watch.UnitFigures;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;

/** How soon a sensor that repeats its last value is named, whichever it is, and what is said of sensors that are well. */
final class StuckStudy {

    private static final Duration STEP = Duration.ofSeconds(10);
    private static final int STEPS_PER_MINUTE = 6;
    private static final int BEFORE_MINUTES = 90;
    private static final int STUCK_MINUTES = 30;
    private static final Set<Quantity> MEASURED = Set.of(
            Quantity.TEMPERATURE,
            Quantity.VOLUME_FLOW,
            Quantity.DIFFERENTIAL_PRESSURE,
            Quantity.GAUGE_PRESSURE,
            Quantity.POWER,
            Quantity.CONDUCTIVITY,
            Quantity.PH);

    private final TrialUnits units;

    StuckStudy(TrialUnits units) {
        this.units = units;
    }

    /** @param plantAlarm a function of the plant, not the instruments, asked for something it did not ask for before */
    record Stuck(boolean named, double minutes, boolean plantAlarm) {}

    List<io.loopwarden.study.Finding> run(long seed, int trials, int wellUnits, int wellDays) {
        List<Stuck> all = Trials.run(seed, 41, trials, this::stuck);
        List<Integer> calls = Trials.run(seed, 42, wellUnits, r -> falseCalls(r, wellDays));
        double unitYears = wellUnits * wellDays / 365.25;
        List<Double> minutes = all.stream().map(Stuck::minutes).toList();
        return List.of(
                io.loopwarden.study.Finding.of(
                        "stuck sensor, any but those of a standing pump: named alone within 30 min",
                        100.0 * all.stream().filter(Stuck::named).count() / all.size(),
                        "%",
                        ">= 95",
                        f -> f >= 95),
                io.loopwarden.study.Finding.told("    median", FilterStudy.quantile(minutes, 0.5), "min"),
                io.loopwarden.study.Finding.of(
                        "    a stuck sensor became an alarm of another function",
                        100.0 * all.stream().filter(Stuck::plantAlarm).count() / all.size(),
                        "%",
                        "0",
                        f -> f == 0),
                io.loopwarden.study.Finding.of(
                        "sensors called stuck, noisy or spiking that are well, in 10 unit-years ("
                                + Report.number(unitYears) + " unit-years watched, samples every 10 s)",
                        10 * calls.stream().mapToInt(Integer::intValue).sum() / unitYears,
                        "1",
                        "< 1",
                        f -> f < 1));
    }

    private static void minute(LoopTrial trial) {
        for (int i = 0; i < STEPS_PER_MINUTE; i++) {
            trial.unit.coarseStep(STEP);
            trial.unit.readings().samples().forEach(trial.watch::accept);
        }
    }

    Stuck stuck(Random random) {
        LoopTrial trial = new LoopTrial(LoopTrial.asServed(units.anywhere(random)));
        List<PointName> sensors = trial.unit.points().stream()
                .filter(p -> MEASURED.contains(p.quantity()))
                .filter(p -> !p.value().endsWith("setpoint"))
                .filter(p -> !isOfStandingPump(trial, p))
                .toList();
        PointName sensor = sensors.get(random.nextInt(sensors.size()));
        for (int i = 0; i < BEFORE_MINUTES; i++) {
            minute(trial);
        }
        UnitFigures before = trial.watch.evaluate(trial.unit.now());
        trial.fault(FaultKind.SENSOR_STUCK, sensor.value(), 1, 0);
        boolean plant = false;
        for (int i = 1; i <= STUCK_MINUTES; i++) {
            minute(trial);
            UnitFigures figures = trial.watch.evaluate(trial.unit.now());
            for (int f = 0; f < figures.signals().size() - 1; f++) {
                plant |= figures.signals()
                                .get(f)
                                .signal()
                                .compareTo(before.signals().get(f).signal())
                        > 0;
            }
            Map<PointName, Trust> doubted = figures.distrusted();
            if (doubted.containsKey(sensor) && doubted.get(sensor).finding() == Finding.STUCK) {
                return new Stuck(doubted.size() == 1, i, plant);
            }
        }
        return new Stuck(false, STUCK_MINUTES + 1.0, plant);
    }

    /** At standstill power and head are nought, stuck or not: nothing can tell. */
    private static boolean isOfStandingPump(LoopTrial trial, PointName point) {
        if (!point.value().startsWith("pump.")) {
            return false;
        }
        String speed = point.value().replaceFirst("\\.[a-z]+$", ".speed");
        return trial.unit.value(PointName.of(speed)) == 0;
    }

    int falseCalls(Random random, int days) {
        LoopTrial trial = new LoopTrial(LoopTrial.asServed(units.anywhere(random)));
        int calls = 0;
        Set<PointName> were = Set.of();
        for (int i = 0; i < days * 144; i++) {
            for (int m = 0; m < 10; m++) {
                minute(trial);
            }
            Map<PointName, Trust> now = trial.watch.evaluate(trial.unit.now()).distrusted();
            for (PointName point : now.keySet()) {
                calls += were.contains(point) ? 0 : 1;
            }
            were = now.keySet();
        }
        return calls;
    }
}
