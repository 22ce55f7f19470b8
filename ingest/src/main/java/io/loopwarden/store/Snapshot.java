package io.loopwarden.store;

import java.sql.Connection;
import java.sql.SQLException;
import javax.sql.DataSource;

/** A connection whose queries all see the database at one moment. */
final class Snapshot implements AutoCloseable {

    private final Connection connection;

    Snapshot(DataSource database) throws SQLException {
        connection = database.getConnection();
        connection.setTransactionIsolation(Connection.TRANSACTION_REPEATABLE_READ);
        connection.setReadOnly(true);
        connection.setAutoCommit(false);
    }

    Connection connection() {
        return connection;
    }

    @Override
    public void close() throws SQLException {
        try (connection) {
            connection.rollback();
            connection.setAutoCommit(true);
            connection.setReadOnly(false);
            connection.setTransactionIsolation(Connection.TRANSACTION_READ_COMMITTED);
        }
    }
}
