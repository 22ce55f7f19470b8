package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.maintenance.Amount;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.Replacement;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import javax.sql.DataSource;

/** What every database must do with maintenance entries. */
final class MaintenanceCases {

    private static final Instant MONDAY = Instant.parse("2026-11-16T09:00:00.123456Z");

    private final DataSource database;
    private final MaintenanceStore store;
    private final UnitId unit;

    MaintenanceCases(DataSource database, UnitId unit) {
        this.database = database;
        this.store = new MaintenanceStore(database);
        this.unit = unit;
    }

    void onlyAdded() throws SQLException {
        MaintenanceEntry topUp = entry(
                MaintenanceKind.TOP_UP, null, Optional.of(new Amount(12.5, "L")), Optional.empty(), Optional.empty());
        MaintenanceEntry pump = entry(
                MaintenanceKind.PART_REPLACED,
                "pump.1",
                Optional.empty(),
                Optional.of(new Replacement("P-4711", "Ostravik", "")),
                Optional.empty());
        MaintenanceEntry undone =
                entry(MaintenanceKind.WITHDRAWAL, null, Optional.empty(), Optional.empty(), Optional.of(topUp.id()));
        for (MaintenanceEntry entry : List.of(topUp, pump, undone, topUp)) {
            store.add(entry);
        }
        assertThat(store.of(unit)).containsExactlyInAnyOrder(topUp, pump, undone);
        assertThat(store.all()).isEqualTo(store.of(unit));
        assertThat(store.of(new UnitId("other"))).isEmpty();

        MaintenanceEntry twice =
                entry(MaintenanceKind.WITHDRAWAL, null, Optional.empty(), Optional.empty(), Optional.of(topUp.id()));
        assertThatThrownBy(() -> store.add(twice)).isInstanceOf(SQLException.class);
        assertThatThrownBy(() -> execute("UPDATE maintenance_entry SET note = ''"))
                .hasMessageContaining("withdrawal");
        assertThatThrownBy(() -> execute("DELETE FROM maintenance_entry")).hasMessageContaining("withdrawal");
    }

    private MaintenanceEntry entry(
            MaintenanceKind kind,
            String part,
            Optional<Amount> amount,
            Optional<Replacement> replacement,
            Optional<UUID> withdraws) {
        return new MaintenanceEntry(
                UUID.randomUUID(),
                unit,
                kind,
                Optional.ofNullable(part),
                MONDAY,
                MONDAY.plusSeconds(1800),
                "Ines",
                MONDAY.plusSeconds(7200),
                "after the storm",
                amount,
                replacement,
                withdraws);
    }

    private void execute(String sql) throws SQLException {
        try (Connection connection = database.getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }
}
