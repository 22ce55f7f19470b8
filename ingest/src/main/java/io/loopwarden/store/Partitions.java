package io.loopwarden.store;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Native range partitions of one table, each a fixed number of weeks long, counted from a Monday. Does nothing for hypertables. */
final class Partitions {

    private static final Logger LOG = LoggerFactory.getLogger(Partitions.class);

    private static final LocalDate FIRST_MONDAY = LocalDate.of(1970, 1, 5);
    private static final DateTimeFormatter STAMP = DateTimeFormatter.BASIC_ISO_DATE;
    /** A reader may hold a table for long; a drop then gives up and comes again with the next maintenance. */
    private static final String DROP_WAIT = "2s";

    private static final String LOCK_NOT_AVAILABLE = "55P03";

    private final String table;
    private final int days;
    private final boolean nativePartitions;
    private final Set<LocalDate> known = new HashSet<>();

    Partitions(String table, int weeks, Flavour flavour) {
        this.table = table;
        this.days = weeks * 7;
        this.nativePartitions = flavour == Flavour.PLAIN;
    }

    /** Makes the partition for that time if it is missing. The connection must be in auto-commit. */
    synchronized void ensure(Connection connection, long ns) throws SQLException {
        LocalDate start = startOf(Times.instant(ns));
        if (!nativePartitions || known.contains(start)) {
            return;
        }
        String name = nameOf(start);
        try (Statement statement = connection.createStatement()) {
            if (!exists(statement, name)) {
                // Attaching takes a lighter lock than PARTITION OF would: readers go on.
                statement.execute("CREATE TABLE IF NOT EXISTS " + name + " (LIKE " + table + " INCLUDING ALL)");
                statement.execute("ALTER TABLE " + table + " ATTACH PARTITION " + name + " FOR VALUES FROM ('" + start
                        + "T00:00:00Z') TO ('" + start.plusDays(days) + "T00:00:00Z')");
            }
        }
        known.add(start);
    }

    /** Drops partitions that lie wholly before that time; returns their names. */
    synchronized List<String> dropBefore(Connection connection, Instant time) throws SQLException {
        List<String> dropped = new ArrayList<>();
        if (!nativePartitions) {
            return dropped;
        }
        LocalDate first = time.atZone(ZoneOffset.UTC).toLocalDate();
        try (Statement statement = connection.createStatement()) {
            for (LocalDate start : starts(statement)) {
                if (!start.plusDays(days).isAfter(first)) {
                    if (drop(statement, start)) {
                        dropped.add(nameOf(start));
                    }
                }
            }
        }
        return dropped;
    }

    private boolean drop(Statement statement, LocalDate start) throws SQLException {
        statement.execute("SET lock_timeout = '" + DROP_WAIT + "'");
        try {
            statement.execute("DROP TABLE IF EXISTS " + nameOf(start));
            known.remove(start);
            return true;
        } catch (SQLException e) {
            if (!LOCK_NOT_AVAILABLE.equals(e.getSQLState())) {
                throw e;
            }
            LOG.info("{} is old but being read, it is dropped later", nameOf(start));
            return false;
        } finally {
            statement.execute("RESET lock_timeout");
        }
    }

    private List<LocalDate> starts(Statement statement) throws SQLException {
        List<LocalDate> starts = new ArrayList<>();
        try (ResultSet row =
                statement.executeQuery("SELECT c.relname FROM pg_inherits i JOIN pg_class c ON c.oid = i.inhrelid"
                        + " WHERE i.inhparent = '" + table + "'::regclass ORDER BY c.relname")) {
            while (row.next()) {
                starts.add(LocalDate.parse(row.getString(1).substring(table.length() + 2), STAMP));
            }
        }
        return starts;
    }

    private static boolean exists(Statement statement, String name) throws SQLException {
        try (ResultSet row =
                statement.executeQuery("SELECT 1 FROM pg_inherits WHERE inhrelid = to_regclass('" + name + "')")) {
            return row.next();
        }
    }

    private LocalDate startOf(Instant time) {
        long day = time.atZone(ZoneOffset.UTC).toLocalDate().toEpochDay() - FIRST_MONDAY.toEpochDay();
        return FIRST_MONDAY.plusDays(day - Math.floorMod(day, days));
    }

    private String nameOf(LocalDate start) {
        return table + "_p" + STAMP.format(start);
    }
}
