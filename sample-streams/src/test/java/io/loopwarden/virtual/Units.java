package io.loopwarden.virtual;

import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.fault.FaultKind;
import io.loopwarden.virtual.plant.Site;
import io.loopwarden.virtual.scenario.Scenario;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** Units for tests, built as the sample scenario builds them. */
public final class Units {

    public static final Path SCENARIO = Path.of("scenario");
    public static final Instant START = Instant.parse("2026-11-25T00:00:00Z");

    private Units() {}

    /** A healthy unit of that id's model. */
    public static UnitSpec healthy(String id) {
        return with(id, List.of());
    }

    public static UnitSpec with(String id, List<Fault> faults) {
        UnitSpec spec = Scenario.load(SCENARIO, START, Scenario.Options.AS_WRITTEN)
                .units()
                .get(id);
        return new UnitSpec(spec.id(), spec.plant(), spec.site(), spec.setpoints(), faults, spec.seed());
    }

    /** The same unit with its racks at a constant load, relative to rated. */
    public static UnitSpec atLoad(UnitSpec spec, double load) {
        Site site = spec.site();
        Site constant = new Site(
                site.hallSeed(), site.unitSeed(), site.ratedDutyW(), load, 0, site.fwsSupplyC(), site.fwsDpPa());
        return new UnitSpec(spec.id(), spec.plant(), constant, spec.setpoints(), spec.faults(), spec.seed());
    }

    public static Fault since(Instant from, FaultKind kind, int target, double severity) {
        return new Fault(
                kind, target, Optional.empty(), from.getEpochSecond(), Double.POSITIVE_INFINITY, severity, 0, 0, 0);
    }

    public static Fault sensor(Instant from, FaultKind kind, String point, double severity) {
        return new Fault(
                kind, 0, Optional.of(point), from.getEpochSecond(), Double.POSITIVE_INFINITY, severity, 0, 0, 0);
    }
}
