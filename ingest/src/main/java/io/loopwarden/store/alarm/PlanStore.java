package io.loopwarden.store.alarm;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javax.sql.DataSource;

/** Every version of the on-call plan. Any number of threads. */
public final class PlanStore {

    private static final String TAKEN = "23505";

    private final DataSource database;

    public PlanStore(DataSource database) {
        this.database = database;
    }

    public Optional<PlanVersion> newest() throws SQLException {
        return newest(1).stream().findFirst();
    }

    /** The newest versions, newest first. */
    public List<PlanVersion> newest(int most) throws SQLException {
        List<PlanVersion> versions = new ArrayList<>();
        try (Connection connection = database.getConnection();
                PreparedStatement select = connection.prepareStatement(SELECT)) {
            select.setInt(1, most);
            try (ResultSet row = select.executeQuery()) {
                while (row.next()) {
                    versions.add(new PlanVersion(
                            row.getInt("version"),
                            Sql.time(row, "written_at"),
                            row.getString("written_by"),
                            row.getString("why"),
                            row.getString("plan")));
                }
            }
        }
        return versions;
    }

    /** Adds a version; false if somebody added that number before. */
    public boolean add(PlanVersion plan) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement insert = connection.prepareStatement(INSERT)) {
            insert.setInt(1, plan.version());
            Sql.time(insert, 2, plan.at());
            insert.setString(3, plan.who());
            insert.setString(4, plan.why());
            insert.setString(5, plan.plan());
            insert.executeUpdate();
            return true;
        } catch (SQLException e) {
            if (TAKEN.equals(e.getSQLState())) {
                return false;
            }
            throw e;
        }
    }

    private static final String SELECT = "SELECT * FROM on_call_plan ORDER BY version DESC LIMIT ?";

    private static final String INSERT =
            "INSERT INTO on_call_plan (version, written_at, written_by, why, plan) VALUES (?, ?, ?, ?, ?::jsonb)";
}
