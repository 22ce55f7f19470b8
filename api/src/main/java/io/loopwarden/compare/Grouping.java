package io.loopwarden.compare;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Unit;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.MaintenanceLog;
import java.util.Locale;
import java.util.Optional;

/** What units of a cohort have in common. */
public enum Grouping {
    SUPPLIER,
    MODEL,
    HALL,
    COOLANT,
    /** The beginning of the serial of the exchanger that was put in last. */
    EXCHANGER_BATCH;

    private static final String AS_DELIVERED = "as delivered";

    public String key() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    public static Optional<Grouping> of(String key) {
        for (Grouping grouping : values()) {
            if (grouping.key().equals(key)) {
                return Optional.of(grouping);
            }
        }
        return Optional.empty();
    }

    /** The cohort of a unit. */
    public String of(Unit unit, MaintenanceLog log) {
        return switch (this) {
            case SUPPLIER -> unit.nameplate().supplier();
            case MODEL -> unit.nameplate().supplier() + " " + unit.nameplate().model();
            case HALL -> unit.hall();
            case COOLANT -> coolant(unit.nameplate().tcsCoolant());
            case EXCHANGER_BATCH ->
                log.entries().stream()
                        .filter(entry -> entry.kind() == MaintenanceKind.PART_REPLACED
                                && entry.part().orElse("").startsWith("exchanger"))
                        .reduce((first, second) -> second)
                        .flatMap(MaintenanceEntry::replacement)
                        .map(part -> part.serial().replaceFirst("-[^-]*$", ""))
                        .filter(batch -> !batch.isBlank())
                        .orElse(AS_DELIVERED);
        };
    }

    private static String coolant(CoolantSpec coolant) {
        return coolant.kind() == CoolantSpec.Kind.WATER
                ? "water"
                : "PG-" + Math.round(100 * coolant.glycolMassFraction());
    }
}
