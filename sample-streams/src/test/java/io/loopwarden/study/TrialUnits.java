package io.loopwarden.study;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.virtual.UnitSpec;
import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.fault.FaultKind;
import io.loopwarden.virtual.plant.PlantParameters;
import io.loopwarden.virtual.plant.Site;
import io.loopwarden.virtual.scenario.Scenario;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/** Units of both suppliers with clean plates, each built, placed, loaded and instrumented a little differently. */
final class TrialUnits {

    static final Instant START = Instant.parse("2026-01-05T00:00:00Z");

    /** The virtual sensors use 80 % of their class; a study lets them err evenly over all of it. */
    private static final double USED_SHARE_OF_CLASS = 0.8;

    private final List<UnitSpec> models;

    TrialUnits(Path scenario) {
        var units = Scenario.load(scenario, START, Scenario.Options.AS_WRITTEN).units();
        UnitSpec first = units.values().iterator().next();
        UnitSpec other = units.values().stream()
                .filter(u -> !model(u).equals(model(first)))
                .findFirst()
                .orElseThrow();
        models = List.of(first, other);
    }

    private static String model(UnitSpec spec) {
        return spec.plant().nameplate().model();
    }

    /** What the supplier promised and what its sensors' class is: all that the judge may know. */
    record Trial(UnitSpec spec, Nameplate nameplate) {}

    /** Load and facility water anywhere in their usual ranges. */
    Trial anywhere(Random random) {
        double base = between(0.35, 0.65, random);
        return trial(base, Math.min(between(0.1, 0.35, random), 0.95 - base), random);
    }

    /** Load from 30 to 80 % of rated, the range of the sensitivity goals. */
    Trial partLoad(Random random) {
        return trial(0.38, 0.36, random);
    }

    private Trial trial(double base, double run, Random random) {
        UnitSpec model = models.get(random.nextInt(models.size()));
        PlantParameters p = model.plant();
        Site site = new Site(
                random.nextLong(),
                random.nextLong(),
                p.nameplate().ratedDutyW(),
                base,
                run,
                between(22, 31, random),
                model.site().fwsDpPa());
        PlantParameters plant = new PlantParameters(
                wholeClass(p.nameplate()),
                p.plateAreaM2(),
                p.tcsFilmWPerM2K() * between(0.8, 1.2, random),
                p.fwsFilmWPerM2K() * between(0.8, 1.2, random),
                p.pumpDpPa(),
                p.designFwsDpPa(),
                p.valveAuthority(),
                p.exchangerTcsDpPa(),
                p.filterElementDpPa(),
                p.filterFittingsDpPa(),
                p.internalPipeDpPa(),
                p.strainerDpPa(),
                p.exchangerFwsDpPa());
        UnitSpec spec = new UnitSpec(model.id(), plant, site, model.setpoints(), List.of(), random.nextLong());
        return new Trial(spec, p.nameplate());
    }

    private static Nameplate wholeClass(Nameplate n) {
        SensorClass s = n.sensors();
        SensorClass wider = new SensorClass(
                s.temperatureLimitK() / USED_SHARE_OF_CLASS,
                s.temperatureLimitPerK() / USED_SHARE_OF_CLASS,
                s.flowLimitRatio() / USED_SHARE_OF_CLASS,
                s.pressureLimitPa() / USED_SHARE_OF_CLASS);
        return new Nameplate(
                n.supplier(),
                n.model(),
                n.ratedDutyW(),
                n.ratedApproachK(),
                n.ratedTcsFlowM3PerS(),
                n.ratedFwsFlowM3PerS(),
                n.designFwsDpPa(),
                n.availableHeadPa(),
                n.designFwsSupplyTemperatureC(),
                n.tcsCoolant(),
                n.fwsCoolant(),
                n.pumps(),
                n.pumpsNeeded(),
                n.exchangers(),
                n.filters(),
                n.loopVolumeM3(),
                n.reservoirVolumeM3(),
                n.filterTerminalDpPa(),
                n.plateAreaM2(),
                wider);
    }

    static double between(double low, double high, Random random) {
        return low + (high - low) * random.nextDouble();
    }

    /** Deposits on all exchangers, growing by so much a day. */
    static Fault linear(Instant from, double perDayM2KPerW) {
        return fouling(from, perDayM2KPerW, 0, 0);
    }

    /** Deposits on all exchangers, growing towards a limit. */
    static Fault asymptotic(Instant from, double limitM2KPerW, double timeConstantDays) {
        return fouling(from, 0, limitM2KPerW, timeConstantDays);
    }

    private static Fault fouling(Instant from, double perDay, double limit, double timeConstantDays) {
        return new Fault(
                FaultKind.FOULING,
                0,
                Optional.empty(),
                from.getEpochSecond(),
                Double.POSITIVE_INFINITY,
                0,
                perDay,
                limit,
                timeConstantDays);
    }
}
