package io.loopwarden.watch;

import io.loopwarden.fleet.Points;
import io.loopwarden.maintenance.Amount;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.MaintenanceLog;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.Comparator;
import java.util.Optional;

/** What people measured by hand and wrote in the log. */
final class Readings {

    /** A hand refractometer reads to about half a percent of mass (common practice, no source). */
    private static final double REFRACTOMETER = 0.005;

    private Readings() {}

    /** Mass fraction of glycol by the latest reading up to an instant. */
    static Optional<Estimate> concentration(MaintenanceLog log, Instant at) {
        return log.of(MaintenanceKind.READING, Points.COOLANT_CONCENTRATION.value())
                .filter(e -> !e.until().isAfter(at))
                .filter(e -> e.part().isPresent())
                .max(Comparator.comparing(MaintenanceEntry::until))
                .flatMap(MaintenanceEntry::amount)
                .flatMap(Readings::massFraction);
    }

    private static Optional<Estimate> massFraction(Amount amount) {
        double ratio = amount.unit().equals("%") ? amount.value() / 100 : amount.value();
        return ratio >= 0 && ratio <= 1 ? Optional.of(new Estimate(ratio, REFRACTOMETER)) : Optional.empty();
    }
}
