package io.loopwarden.virtual.serve;

import io.loopwarden.fleet.Quantity;
import io.loopwarden.virtual.Readings;
import io.loopwarden.virtual.scenario.FleetFile;
import io.loopwarden.virtual.scenario.Tag;
import java.util.List;

/** One served unit: its name at the source and its tags. */
record UnitTags(String id, String nameAtSource, List<Tag> tags) {

    static List<UnitTags> of(FleetFile fleet, FleetFile.Line line) {
        return fleet.unitsOf(line).stream()
                .map(unit -> new UnitTags(
                        unit.id(), unit.nameAtSource(), fleet.mapOf(unit).tags()))
                .toList();
    }

    double raw(Tag tag, Readings readings) {
        return tag.raw(readings.value(tag.point().value()));
    }

    static boolean isFlag(Tag tag) {
        return tag.point().quantity() == Quantity.FLAG;
    }

    static boolean isCount(Tag tag) {
        return tag.point().quantity() == Quantity.COUNT;
    }
}
