package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.maintenance.MaintenanceEntry;
import java.time.Instant;
import java.util.UUID;

/**
 * One entry of the maintenance log.
 *
 * @param kind a word of {@link io.loopwarden.maintenance.MaintenanceKind}
 * @param part what was worked on, in the words of points; absent for the unit as a whole
 * @param withdraws the entry that this one makes void
 * @param withdrawn true where a later entry makes this one void
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record MaintenanceView(
        UUID id,
        String unit,
        String kind,
        String part,
        Instant from,
        Instant until,
        String by,
        Instant writtenAt,
        String note,
        AmountView amount,
        ReplacementView replacement,
        UUID withdraws,
        boolean withdrawn) {

    /** @param unit UCUM code */
    public record AmountView(double value, String unit) {}

    public record ReplacementView(String serial, String supplier, String model) {}

    public static MaintenanceView of(MaintenanceEntry entry, boolean withdrawn) {
        return new MaintenanceView(
                entry.id(),
                entry.unit().value(),
                entry.kind().word(),
                entry.part().orElse(null),
                entry.from(),
                entry.until(),
                entry.by(),
                entry.writtenAt(),
                entry.note(),
                entry.amount()
                        .map(amount -> new AmountView(amount.value(), amount.unit()))
                        .orElse(null),
                entry.replacement()
                        .map(part -> new ReplacementView(part.serial(), part.supplier(), part.model()))
                        .orElse(null),
                entry.withdraws().orElse(null),
                withdrawn);
    }
}
