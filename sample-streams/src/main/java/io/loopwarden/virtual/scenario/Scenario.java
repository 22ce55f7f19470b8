package io.loopwarden.virtual.scenario;

import io.loopwarden.virtual.UnitSpec;
import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.fault.FaultKind;
import io.loopwarden.virtual.plant.Site;
import io.loopwarden.virtual.plant.SmoothNoise;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.SplittableRandom;
import java.util.TreeMap;

/**
 * A virtual fleet as its files describe it.
 *
 * @param fleet who is served where
 * @param units one specification for each unit of the fleet, by id
 */
public record Scenario(FleetFile fleet, Map<String, UnitSpec> units) {

    /** How a scenario is read. */
    public record Options(OptionalLong seed, boolean fresh) {
        /** The scenario's own seed, and its faults as old as it says. */
        public static final Options AS_WRITTEN = new Options(OptionalLong.empty(), false);
    }

    public static Scenario load(Path folder, Instant start, Options options) {
        Node top = Node.load(folder.resolve("scenario.yaml"));
        top.refuseOthers(List.of("seed", "models", "halls", "load", "wear", "faults"));
        FleetFile fleet = FleetFile.load(folder.resolve("fleet"));
        long seed = options.seed().orElse((long) top.number("seed"));
        Map<String, UnitSpec> units = new TreeMap<>();
        for (FleetFile.Served unit : fleet.units()) {
            units.put(unit.id(), spec(top, unit, seed, start.getEpochSecond(), options.fresh()));
        }
        for (Node fault : top.list("faults")) {
            if (!units.containsKey(fault.text("unit"))) {
                throw new IllegalArgumentException("scenario.yaml: a fault names unit '" + fault.text("unit")
                        + "', which fleet.yaml does not have");
            }
        }
        return new Scenario(fleet, units);
    }

    private static UnitSpec spec(Node top, FleetFile.Served unit, long seed, double startS, boolean fresh) {
        Node model = top.maps("models").get(unit.nameplate());
        Node hall = top.maps("halls").get(unit.hall());
        if (model == null || hall == null) {
            throw new IllegalArgumentException("scenario.yaml: unit " + unit.id() + " needs model '" + unit.nameplate()
                    + "' and hall '" + unit.hall() + "'");
        }
        ModelFields built = ModelFields.read(model);
        long unitSeed = SmoothNoise.mix(seed * 31 + unit.id().hashCode());
        SplittableRandom random = new SplittableRandom(unitSeed);
        Node load = top.map("load");
        Site site = new Site(
                SmoothNoise.mix(seed * 31 + unit.hall().hashCode()),
                unitSeed,
                built.plant().nameplate().ratedDutyW(),
                load.number("base") + load.number("spread") * (2 * random.nextDouble() - 1),
                load.number("run"),
                hall.number("fws-supply-c"),
                hall.number("fws-dp-pa"));
        List<Fault> faults = new ArrayList<>(smallWear(top.map("wear"), random));
        for (Node fault : top.list("faults")) {
            if (fault.text("unit").equals(unit.id())) {
                faults.add(FaultFields.read(fault, startS, fresh));
            }
        }
        return new UnitSpec(unit.id(), built.plant(), site, built.setpoints(), faults, unitSeed);
    }

    private static List<Fault> smallWear(Node wear, SplittableRandom random) {
        List<Fault> faults = new ArrayList<>();
        for (int exchanger = 1; exchanger <= 3; exchanger++) {
            faults.add(constant(FaultKind.FOULING, exchanger, wear.number("fouling-m2k-per-w") * random.nextDouble()));
        }
        for (int filter = 1; filter <= 4; filter++) {
            faults.add(constant(FaultKind.FILTER_LOADING, filter, wear.number("filter-growth") * random.nextDouble()));
        }
        for (int pump = 1; pump <= 2; pump++) {
            faults.add(constant(FaultKind.PUMP_WEAR, pump, wear.number("pump-share") * random.nextDouble()));
        }
        faults.add(constant(FaultKind.STRAINER_BLOCKAGE, 0, wear.number("strainer-growth") * random.nextDouble()));
        return faults;
    }

    private static Fault constant(FaultKind kind, int target, double severity) {
        // Long before everything; finite, because 0 · ∞ days of growth would be no number.
        return new Fault(kind, target, Optional.empty(), -1e12, Double.POSITIVE_INFINITY, severity, 0, 0, 0);
    }
}
