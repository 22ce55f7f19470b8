package io.loopwarden.study;

import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.virtual.UnitSpec;
import io.loopwarden.virtual.VirtualUnit;
import io.loopwarden.virtual.control.Setpoints;
import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.fault.FaultKind;
import io.loopwarden.virtual.plant.PlantParameters;
import io.loopwarden.watch.UnitFigures;
import io.loopwarden.watch.UnitWatch;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.Random;

/** A virtual unit and the watch over it, all of its points: every half hour two minutes of samples and one evaluation. */
final class LoopTrial {

    static final int READINGS_PER_DAY = 48;

    private static final Duration UNWATCHED_STEP = Duration.ofMinutes(4);
    private static final int UNWATCHED_STEPS = 7;
    private static final Duration SAMPLED_STEP = Duration.ofSeconds(20);
    private static final int SAMPLED_STEPS = 6;

    final VirtualUnit unit;
    final UnitWatch watch;
    final TrialUnits.Trial trial;

    LoopTrial(TrialUnits.Trial trial) {
        this.trial = trial;
        unit = new VirtualUnit(trial.spec(), TrialUnits.START);
        watch = new UnitWatch(new Unit(new UnitId(unit.id()), "study", "study", trial.nameplate()));
    }

    /** With the instruments of the virtual fleet, where {@link TrialUnits} takes somewhat worse ones. */
    static TrialUnits.Trial asServed(TrialUnits.Trial trial) {
        UnitSpec s = trial.spec();
        PlantParameters p = s.plant();
        PlantParameters plant = new PlantParameters(
                trial.nameplate(),
                p.plateAreaM2(),
                p.tcsFilmWPerM2K(),
                p.fwsFilmWPerM2K(),
                p.pumpDpPa(),
                p.designFwsDpPa(),
                p.valveAuthority(),
                p.exchangerTcsDpPa(),
                p.filterElementDpPa(),
                p.filterFittingsDpPa(),
                p.internalPipeDpPa(),
                p.strainerDpPa(),
                p.exchangerFwsDpPa());
        return new TrialUnits.Trial(
                new UnitSpec(s.id(), plant, s.site(), s.setpoints(), s.faults(), s.seed()), trial.nameplate());
    }

    /** Runs at up to a bit above rated flow, so that rack valves can bring it down to 40 %. */
    static TrialUnits.Trial wide(TrialUnits.Trial trial) {
        UnitSpec s = trial.spec();
        double setPa = 1.09 * trial.nameplate().availableHeadPa();
        Setpoints setpoints = new Setpoints(setPa, s.setpoints().approachK());
        return new TrialUnits.Trial(
                new UnitSpec(s.id(), s.plant(), s.site(), setpoints, s.faults(), s.seed()), trial.nameplate());
    }

    UnitFigures next() {
        for (int i = 0; i < UNWATCHED_STEPS; i++) {
            unit.coarseStep(UNWATCHED_STEP);
        }
        for (int i = 0; i < SAMPLED_STEPS; i++) {
            unit.coarseStep(SAMPLED_STEP);
            unit.readings().samples().forEach(watch::accept);
        }
        return watch.evaluate(unit.now());
    }

    void days(int days) {
        for (int i = 0; i < days * READINGS_PER_DAY; i++) {
            next();
        }
    }

    static Computed<Estimate> of(UnitFigures figures, String key) {
        return figures.result(key).orElseThrow().value();
    }

    /** A fault from now on. */
    void fault(FaultKind kind, int target, double step, double perDay) {
        unit.addFault(between(kind, target, Optional.empty(), unit.now(), Double.POSITIVE_INFINITY, step, perDay));
    }

    void fault(FaultKind kind, String point, double step, double perDay) {
        unit.addFault(between(kind, 0, Optional.of(point), unit.now(), Double.POSITIVE_INFINITY, step, perDay));
    }

    /** Rack valves close and open again: every six hours another share of their conductance is left. */
    void closeRacks(int days, double most, Random random) {
        for (int i = 0; i < 4 * days; i++) {
            Instant from = unit.now().plus(Duration.ofHours(6L * i));
            double until = from.getEpochSecond() + 6 * 3600;
            double share = most * random.nextDouble();
            unit.addFault(between(FaultKind.RACK_BLOCKAGE, 0, Optional.empty(), from, until, share, 0));
        }
    }

    private static Fault between(
            FaultKind kind,
            int target,
            Optional<String> point,
            Instant from,
            double untilS,
            double step,
            double perDay) {
        return new Fault(kind, target, point, from.getEpochSecond(), untilS, step, perDay, 0, 0);
    }
}
