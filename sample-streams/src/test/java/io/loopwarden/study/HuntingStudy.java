package io.loopwarden.study;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.virtual.fault.FaultKind;
import io.loopwarden.watch.UnitFigures;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** How many periods a hunting valve goes unnoticed, and what is called hunting while loads come and go. */
final class HuntingStudy {

    private static final Duration STEP = Duration.ofSeconds(5);
    private static final int LOOK_EVERY_S = 30;
    private static final int MOST_S = 1800;
    private static final int NEVER = 99;

    /** From its middle the valve must have gone so far to one side and then to the other. */
    private static final double HALF_SWING = 0.01;

    private final TrialUnits units;

    HuntingStudy(TrialUnits units) {
        this.units = units;
    }

    /**
     * One unit whose valve loop is tuned so tight that it swings by itself.
     *
     * @param periods that passed before it was called
     * @param periodError of the period stated, as a share of the true one
     */
    record Hunt(double periods, double periodError) {}

    List<Finding> run(long seed, int trials, int wellUnits, int wellHours) {
        List<Hunt> hunts = Trials.run(seed, 31, trials, this::hunt);
        List<Finding> findings = new ArrayList<>();
        findings.add(Finding.of(
                "hunting valve: called within 10 periods",
                100.0 * hunts.stream().filter(h -> h.periods() <= 10).count() / hunts.size(),
                "%",
                ">= 95",
                f -> f >= 95));
        List<Double> periods = hunts.stream().map(Hunt::periods).toList();
        findings.add(Finding.told("    median periods until the call", FilterStudy.quantile(periods, 0.5), "1"));
        List<Double> errors = hunts.stream().map(h -> Math.abs(h.periodError())).toList();
        findings.add(Finding.told("    median error of its period", 100 * FilterStudy.quantile(errors, 0.5), "%"));
        List<Integer> calls = Trials.run(seed, 32, wellUnits, r -> falseCalls(r, wellHours));
        findings.add(Finding.of(
                "hunting called on ordinary load-following, looks of " + wellUnits * wellHours * 120,
                calls.stream().mapToInt(Integer::intValue).sum(),
                "1",
                "0",
                f -> f == 0));
        return findings;
    }

    private static final List<PointName> FOLLOWED = List.of(
            Points.FWS_VALVE_POSITION,
            Points.FWS_VALVE_COMMAND,
            Points.TCS_SUPPLY_TEMPERATURE,
            Points.FWS_SUPPLY_TEMPERATURE,
            Points.TCS_DP,
            Points.FWS_DP,
            Points.numbered("pump.{n}.speed", 1),
            Points.numbered("pump.{n}.speed", 2));

    private static void step(LoopTrial trial) {
        trial.unit.step(STEP);
        for (PointName point : FOLLOWED) {
            trial.watch.accept(Sample.good(point, trial.unit.now(), trial.unit.value(point)));
        }
    }

    private static boolean looks(LoopTrial trial) {
        return trial.unit.now().getEpochSecond() % LOOK_EVERY_S == 0;
    }

    Hunt hunt(Random random) {
        LoopTrial trial = new LoopTrial(LoopTrial.asServed(units.anywhere(random)));
        int before = 720 + random.nextInt(720);
        for (int i = 0; i < before; i++) {
            step(trial);
        }
        trial.fault(FaultKind.TIGHT_VALVE_LOOP, 0, TrialUnits.between(40, 150, random), 0);
        long beganS = trial.unit.now().getEpochSecond();
        List<Double> positions = new ArrayList<>();
        double foundS = Double.POSITIVE_INFINITY;
        double stated = 0;
        while (trial.unit.now().getEpochSecond() - beganS < MOST_S) {
            step(trial);
            positions.add(trial.unit.value(Points.FWS_VALVE_POSITION));
            if (looks(trial) && Double.isInfinite(foundS)) {
                UnitFigures figures = trial.watch.evaluate(trial.unit.now());
                double period = LoopTrial.of(figures, "hunting-period").fold(Estimate::value, gap -> 0.0);
                if (period > 0) {
                    foundS = trial.unit.now().getEpochSecond() - beganS;
                    stated = period;
                }
            }
        }
        double truth = periodS(positions);
        return new Hunt(Double.isInfinite(foundS) ? NEVER : foundS / truth, stated > 0 ? stated / truth - 1 : 1);
    }

    /** Mean time between upward crossings of the middle, each after a true swing. */
    private static double periodS(List<Double> positions) {
        int begin = positions.size() / 4;
        double mean = positions.subList(begin, positions.size()).stream()
                .mapToDouble(Double::doubleValue)
                .average()
                .orElseThrow();
        int ups = 0;
        int first = -1;
        int last = -1;
        boolean low = false;
        for (int i = begin; i < positions.size(); i++) {
            if (positions.get(i) < mean - HALF_SWING) {
                low = true;
            } else if (low && positions.get(i) > mean + HALF_SWING) {
                low = false;
                first = first < 0 ? i : first;
                last = i;
                ups++;
            }
        }
        return ups < 2 ? Double.POSITIVE_INFINITY : (double) (last - first) / (ups - 1) * STEP.toSeconds();
    }

    int falseCalls(Random random, int hours) {
        LoopTrial trial = new LoopTrial(LoopTrial.asServed(units.anywhere(random)));
        int calls = 0;
        for (int i = 0; i < hours * 720; i++) {
            step(trial);
            if (looks(trial)) {
                UnitFigures figures = trial.watch.evaluate(trial.unit.now());
                boolean hunts = LoopTrial.of(figures, "hunting-period").isAvailable();
                calls += hunts ? 1 : 0;
            }
        }
        return calls;
    }
}
