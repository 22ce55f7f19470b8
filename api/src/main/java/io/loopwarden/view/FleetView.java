package io.loopwarden.view;

import java.time.Instant;
import java.util.List;

/** The fleet now. */
public record FleetView(Instant at, Site site, List<UnitRow> units) {

    /** @param zone offset or zone id in which the site's people read times */
    public record Site(String name, String zone) {}
}
