package io.loopwarden.study;

import io.loopwarden.exchanger.FoulingTrend;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.hydraulics.PumpHistory;
import io.loopwarden.instruments.DriftHistory.Drift;
import io.loopwarden.virtual.fault.FaultKind;
import io.loopwarden.watch.UnitMemory;
import java.lang.management.ManagementFactory;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/** Deposits and a drifting sensor at once keep their names; and what a live evaluation of everything costs. */
final class NamesStudy {

    private static final int COMMISSIONING_DAYS = 8;
    private static final int FAULT_DAYS = 21;
    private static final double SHARE_OF_UA = 0.07;
    private static final double DRIFT_PER_DAY_K = 0.05 / 7;
    private static final int COST_SECONDS = 3000;
    private static final int WARM_UP_SECONDS = 2000;
    private static final int WARM_UP_EVALUATIONS = 3;

    private final TrialUnits units;

    NamesStudy(TrialUnits units) {
        this.units = units;
    }

    record Names(boolean fouling, boolean sensor, boolean others) {}

    List<Finding> run(long seed, int trials) {
        List<Names> all = Trials.run(seed, 51, trials, this::names);
        List<Finding> findings = new ArrayList<>();
        findings.add(Finding.of(
                "fouling and a drifting TCS supply sensor at once: both named, nothing else",
                100.0
                        * all.stream()
                                .filter(n -> n.fouling() && n.sensor() && !n.others())
                                .count()
                        / all.size(),
                "%",
                ">= 95",
                f -> f >= 95));
        findings.add(Finding.told(
                "    fouling named", 100.0 * all.stream().filter(Names::fouling).count() / all.size(), "%"));
        findings.add(Finding.told(
                "    the sensor named alone",
                100.0 * all.stream().filter(Names::sensor).count() / all.size(),
                "%"));
        findings.add(Finding.of(
                "cost: one live evaluation of all indicators of a unit, every sample new",
                evaluationUs(new Random(seed)),
                "us",
                "<= 150",
                f -> f <= 150));
        return findings;
    }

    Names names(Random random) {
        LoopTrial trial = new LoopTrial(LoopTrial.asServed(units.partLoad(random)));
        trial.days(COMMISSIONING_DAYS);
        double clean =
                trial.unit.spec().plant().plateAreaM2() / trial.unit.truth().cleanUaWPerK();
        double atEnd = clean * SHARE_OF_UA / (1 - SHARE_OF_UA);
        trial.unit.addFault(TrialUnits.linear(trial.unit.now(), atEnd / FAULT_DAYS));
        trial.fault(FaultKind.SENSOR_OFFSET, Points.TCS_SUPPLY_TEMPERATURE.value(), 0, DRIFT_PER_DAY_K);
        trial.days(FAULT_DAYS);
        UnitMemory memory = trial.watch.memory();
        boolean fouled = memory.fouling()
                .map(h -> FoulingTrend.fouled(h).fold(yes -> yes, gap -> false))
                .orElse(false);
        Optional<Drift> drift = memory.sensors().drift();
        boolean sensor = drift.filter(
                        d -> d.points().size() == 1 && d.points().get(0).point() == Points.TCS_SUPPLY_TEMPERATURE)
                .isPresent();
        boolean others = memory.loop().pumps().stream().anyMatch(PumpHistory::isWorn)
                || memory.loop().filters().filters().stream()
                        .anyMatch(f -> f.event().isPresent());
        return new Names(fouled, sensor, others);
    }

    private double evaluationUs(Random random) {
        LoopTrial trial = new LoopTrial(LoopTrial.asServed(units.anywhere(random)));
        trial.days(6);
        List<List<Sample>> seconds = new ArrayList<>();
        for (int i = 0; i < COST_SECONDS; i++) {
            trial.unit.step(Duration.ofSeconds(1));
            seconds.add(trial.unit.readings().samples());
        }
        long spent = 0;
        int counted = 0;
        for (int i = 0; i < COST_SECONDS; i++) {
            seconds.get(i).forEach(trial.watch::accept);
            for (int k = 0; k < WARM_UP_EVALUATIONS && i < WARM_UP_SECONDS; k++) {
                trial.watch.evaluate(seconds.get(i).get(0).measuredAt());
            }
            long began = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
            trial.watch.evaluate(seconds.get(i).get(0).measuredAt());
            if (i >= WARM_UP_SECONDS) {
                spent += ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() - began;
                counted++;
            }
        }
        return spent * 1e-3 / counted;
    }
}
