package io.loopwarden.store;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.maintenance.Amount;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.Replacement;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import javax.sql.DataSource;

/** The maintenance entries of the fleet; the database itself refuses to change or delete one. Any number of threads. */
public final class MaintenanceStore {

    private final DataSource database;

    /** On a database that {@link SampleStore#open} has brought to this version. */
    public MaintenanceStore(DataSource database) {
        this.database = database;
    }

    /** Adds an entry; one that is there already (by its id) is left as it is. */
    public void add(MaintenanceEntry entry) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement insert = connection.prepareStatement(INSERT)) {
            insert.setObject(1, entry.id());
            insert.setString(2, entry.unit().value());
            insert.setString(3, entry.kind().word());
            insert.setString(4, entry.part().orElse(null));
            insert.setObject(5, Times.sql(Times.nsWithin(entry.from())));
            insert.setObject(6, Times.sql(Times.nsWithin(entry.until())));
            insert.setString(7, entry.by());
            insert.setObject(8, Times.sql(Times.nsWithin(entry.writtenAt())));
            insert.setString(9, entry.note());
            insert.setObject(10, entry.amount().map(Amount::value).orElse(null), java.sql.Types.DOUBLE);
            insert.setString(11, entry.amount().map(Amount::unit).orElse(null));
            insert.setString(12, entry.replacement().map(Replacement::serial).orElse(null));
            insert.setString(13, entry.replacement().map(Replacement::supplier).orElse(null));
            insert.setString(14, entry.replacement().map(Replacement::model).orElse(null));
            insert.setObject(15, entry.withdraws().orElse(null));
            insert.executeUpdate();
        }
    }

    /** Every entry, withdrawals and withdrawn ones too, in the order of the work. */
    public List<MaintenanceEntry> all() throws SQLException {
        return select(ALL, Optional.empty());
    }

    /** Every entry of a unit, in the order of the work. */
    public List<MaintenanceEntry> of(UnitId unit) throws SQLException {
        return select(OF_UNIT, Optional.of(unit));
    }

    private List<MaintenanceEntry> select(String sql, Optional<UnitId> unit) throws SQLException {
        List<MaintenanceEntry> entries = new ArrayList<>();
        try (Connection connection = database.getConnection();
                PreparedStatement select = connection.prepareStatement(sql)) {
            if (unit.isPresent()) {
                select.setString(1, unit.get().value());
            }
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    entries.add(entry(row));
                }
            }
        }
        return entries;
    }

    private static MaintenanceEntry entry(ResultSet row) throws SQLException {
        double amount = row.getDouble("amount");
        Optional<Amount> given =
                row.wasNull() ? Optional.empty() : Optional.of(new Amount(amount, row.getString("amount_ucum")));
        String serial = row.getString("new_serial");
        Optional<Replacement> replacement = serial == null
                ? Optional.empty()
                : Optional.of(new Replacement(serial, row.getString("new_supplier"), row.getString("new_model")));
        return new MaintenanceEntry(
                row.getObject("entry_id", UUID.class),
                new UnitId(row.getString("unit")),
                MaintenanceKind.of(row.getString("kind")),
                Optional.ofNullable(row.getString("part")),
                row.getObject("from_at", OffsetDateTime.class).toInstant(),
                row.getObject("until_at", OffsetDateTime.class).toInstant(),
                row.getString("written_by"),
                row.getObject("written_at", OffsetDateTime.class).toInstant(),
                row.getString("note"),
                given,
                replacement,
                Optional.ofNullable(row.getObject("withdraws", UUID.class)));
    }

    private static final String INSERT = """
            INSERT INTO maintenance_entry (entry_id, unit, kind, part, from_at, until_at, written_by, written_at, note, amount,
                amount_ucum, new_serial, new_supplier, new_model, withdraws)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            ON CONFLICT (entry_id) DO NOTHING""";

    private static final String ALL = "SELECT * FROM maintenance_entry ORDER BY from_at, entry_id";

    private static final String OF_UNIT = "SELECT * FROM maintenance_entry WHERE unit = ? ORDER BY from_at, entry_id";
}
