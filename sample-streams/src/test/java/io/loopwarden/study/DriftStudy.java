package io.loopwarden.study;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.instruments.DriftHistory.Drift;
import io.loopwarden.instruments.DriftHistory.Suspect;
import io.loopwarden.virtual.fault.FaultKind;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * How soon a temperature sensor's drift of 0.05 K a week is called, whether the right sensor is named, and what is called where
 * nothing drifts.
 */
final class DriftStudy {

    private static final int COMMISSIONING_DAYS = 8;
    private static final int WATCHED_DAYS = 21;
    private static final double PER_DAY_K = 0.05 / 7;
    private static final int NEVER = 99;

    /** Facility sensors are seen by the heat balance alone, so no data tell them apart. */
    private static final Set<PointName> FACILITY =
            Set.of(Points.FWS_SUPPLY_TEMPERATURE, Points.FWS_RETURN_TEMPERATURE, Points.FWS_FLOW);

    private static final Map<PointName, Set<PointName>> TELLABLE = Map.of(
            Points.TCS_SUPPLY_TEMPERATURE, Set.of(Points.TCS_SUPPLY_TEMPERATURE),
            Points.TCS_RETURN_TEMPERATURE, Set.of(Points.TCS_RETURN_TEMPERATURE),
            Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT, Set.of(Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT),
            Points.TCS_RETURN_TEMPERATURE_REDUNDANT, Set.of(Points.TCS_RETURN_TEMPERATURE_REDUNDANT),
            Points.FWS_SUPPLY_TEMPERATURE, FACILITY,
            Points.FWS_RETURN_TEMPERATURE, FACILITY);

    private static final List<PointName> SENSORS = List.of(
            Points.TCS_SUPPLY_TEMPERATURE,
            Points.TCS_RETURN_TEMPERATURE,
            Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT,
            Points.TCS_RETURN_TEMPERATURE_REDUNDANT,
            Points.FWS_SUPPLY_TEMPERATURE,
            Points.FWS_RETURN_TEMPERATURE);

    private final TrialUnits units;

    DriftStudy(TrialUnits units) {
        this.units = units;
    }

    /** @param named on the last day the sensor is named, with none beside it that the data could tell apart */
    record Case(PointName sensor, int calledOnDay, boolean calledBefore, boolean named, Set<PointName> last) {}

    List<Finding> run(long seed, int trialsASensor, int cleanUnits, int cleanDays) {
        List<Case> cases = new ArrayList<>();
        for (int i = 0; i < SENSORS.size(); i++) {
            PointName sensor = SENSORS.get(i);
            cases.addAll(Trials.run(seed, 20 + i, trialsASensor, r -> drift(sensor, r)));
        }
        List<Finding> findings = new ArrayList<>();
        findings.add(Finding.of(
                "drift of 0.05 K a week: called and named within 21 days",
                100.0
                        * cases.stream()
                                .filter(c -> c.calledOnDay() <= WATCHED_DAYS && c.named() && !c.calledBefore())
                                .count()
                        / cases.size(),
                "%",
                ">= 95",
                f -> f >= 95));
        for (PointName sensor : SENSORS) {
            List<Double> days = cases.stream()
                    .filter(c -> c.sensor() == sensor)
                    .map(c -> (double) c.calledOnDay())
                    .toList();
            findings.add(Finding.told("    median day, " + sensor, FilterStudy.quantile(days, 0.5), "d"));
        }
        findings.add(Finding.told(
                "    named as one of fws supply, return temperature, flow (one balance: not told apart)",
                100.0
                        * cases.stream()
                                .filter(c -> c.named() && c.last().size() > 1)
                                .count()
                        / cases.size(),
                "%"));
        List<Integer> calls = Trials.run(seed, 27, cleanUnits, r -> falseCalls(cleanDays, r));
        double unitYears = cleanUnits * (cleanDays - COMMISSIONING_DAYS) / 365.25;
        findings.add(Finding.of(
                "false calls of drift, in 10 unit-years (" + Report.number(unitYears) + " unit-years watched)",
                10 * calls.stream().mapToInt(Integer::intValue).sum() / unitYears,
                "1",
                "< 1",
                f -> f < 1));
        return findings;
    }

    Case drift(PointName sensor, Random random) {
        LoopTrial trial = new LoopTrial(LoopTrial.asServed(units.anywhere(random)));
        trial.days(COMMISSIONING_DAYS);
        boolean before = trial.watch.memory().sensors().drift().isPresent();
        trial.fault(FaultKind.SENSOR_OFFSET, sensor.value(), 0, random.nextBoolean() ? PER_DAY_K : -PER_DAY_K);
        int called = NEVER;
        Set<PointName> last = Set.of();
        for (int day = 1; day <= WATCHED_DAYS; day++) {
            trial.days(1);
            Optional<Drift> drift = trial.watch.memory().sensors().drift();
            called = called == NEVER && drift.isPresent() ? day : called;
            last = drift.map(d -> d.points().stream().map(Suspect::point).collect(Collectors.toSet()))
                    .orElse(Set.of());
        }
        boolean named = last.contains(sensor) && TELLABLE.get(sensor).containsAll(last);
        return new Case(sensor, called, before, named, last);
    }

    /** Days on which a call begins. */
    int falseCalls(int days, Random random) {
        LoopTrial trial = new LoopTrial(LoopTrial.asServed(units.anywhere(random)));
        int calls = 0;
        boolean was = false;
        for (int day = 0; day < days; day++) {
            trial.days(1);
            boolean is = trial.watch.memory().sensors().drift().isPresent();
            calls += is && !was ? 1 : 0;
            was = is;
        }
        return calls;
    }
}
