package io.loopwarden.store.alarm;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;

/** Times on their way to and from the database; microseconds are what it keeps. */
final class Sql {

    private Sql() {}

    static void time(PreparedStatement statement, int place, Instant at) throws SQLException {
        statement.setObject(place, at.atOffset(ZoneOffset.UTC));
    }

    static void time(PreparedStatement statement, int place, Optional<Instant> at) throws SQLException {
        statement.setObject(
                place, at.map(instant -> instant.atOffset(ZoneOffset.UTC)).orElse(null));
    }

    static Instant time(ResultSet row, String column) throws SQLException {
        return row.getObject(column, OffsetDateTime.class).toInstant();
    }

    static Optional<Instant> timeIfAny(ResultSet row, String column) throws SQLException {
        return Optional.ofNullable(row.getObject(column, OffsetDateTime.class)).map(OffsetDateTime::toInstant);
    }
}
