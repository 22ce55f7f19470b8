package io.loopwarden.virtual;

import io.loopwarden.virtual.control.Setpoints;
import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.plant.PlantParameters;
import io.loopwarden.virtual.plant.Site;
import java.util.List;
import java.util.Objects;

/**
 * Everything that makes one virtual unit.
 *
 * @param id as in the fleet
 * @param seed of noise and sensor offsets
 */
public record UnitSpec(
        String id, PlantParameters plant, Site site, Setpoints setpoints, List<Fault> faults, long seed) {

    public UnitSpec {
        Objects.requireNonNull(id, "id");
        Objects.requireNonNull(plant, "plant");
        Objects.requireNonNull(site, "site");
        Objects.requireNonNull(setpoints, "setpoints");
        faults = List.copyOf(faults);
    }
}
