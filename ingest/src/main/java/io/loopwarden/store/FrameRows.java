package io.loopwarden.store;

import java.sql.Connection;
import java.sql.SQLException;

/** Rows of the table {@code frame} on their way into it. */
interface FrameRows {

    /** Adds a frame of all the samples in the buffer, sorted by time. */
    void add(int unitId, HourBuffer buffer);

    boolean isEmpty();

    /** Sends the rows within the connection's transaction. */
    void send(Connection connection) throws SQLException;

    void clear();
}
