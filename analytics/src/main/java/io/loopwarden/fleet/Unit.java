package io.loopwarden.fleet;

import java.util.Objects;

/** One coolant distribution unit: where it stands and what was promised of it. */
public record Unit(UnitId id, String site, String hall, Nameplate nameplate) {

    public Unit {
        Objects.requireNonNull(id, "id");
        Objects.requireNonNull(site, "site");
        Objects.requireNonNull(hall, "hall");
        Objects.requireNonNull(nameplate, "nameplate");
    }
}
