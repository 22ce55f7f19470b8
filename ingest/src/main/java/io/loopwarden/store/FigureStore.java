package io.loopwarden.store;

import io.loopwarden.indicator.FunctionSignal;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.watch.UnitFigures;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import javax.sql.DataSource;

/**
 * Keeps what each unit's figures were: one row a unit and minute, and after the end of a day one row a unit and figure with its 24
 * hours. The NE 107 signal of each function is kept beside the figures as a number, 0 good to 4 failure.
 */
public final class FigureStore {

    /** Before a function's name: the key of its signal. */
    public static final String SIGNAL = "signal.";

    /** Key of whether the unit had no failure signal: 1 or 0, so that its mean is the share of the time. */
    public static final String AVAILABLE = "available";

    private static final int MINUTE_WEEKS = 1;
    private static final int HOUR_WEEKS = 4;

    private final DataSource database;
    private final Flavour flavour;
    private final FigureSettings settings;
    private final Clock clock;
    private final Dictionary dictionary = new Dictionary();
    private final Partitions minutes;
    private final Partitions hours;
    private final Map<List<String>, Integer> layouts = new HashMap<>();

    /** On a database that {@link SampleStore#open} has brought to this version. */
    public FigureStore(DataSource database, Flavour flavour, FigureSettings settings, Clock clock) {
        this.database = database;
        this.flavour = flavour;
        this.settings = settings;
        this.clock = clock;
        this.minutes = new Partitions("figure_minute", MINUTE_WEEKS, flavour);
        this.hours = new Partitions("figure_hour", HOUR_WEEKS, flavour);
    }

    public FigureReader reader() {
        return new FigureReader(database, dictionary, settings, clock);
    }

    /**
     * Writes one evaluation of each unit under the minute that it lies in; the first of a minute stays. A unit of which no sample is
     * stored yet is left out.
     */
    public void write(Collection<UnitFigures> evaluated) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement insert = connection.prepareStatement(INSERT_MINUTE)) {
            for (UnitFigures figures : evaluated) {
                Optional<Integer> unit = dictionary.knownUnitId(connection, figures.unit());
                if (unit.isPresent()) {
                    add(connection, insert, unit.get(), figures);
                }
            }
            connection.setAutoCommit(false);
            try {
                insert.executeBatch();
                connection.commit();
            } catch (SQLException e) {
                connection.rollback();
                throw e;
            } finally {
                connection.setAutoCommit(true);
            }
        }
    }

    private void add(Connection connection, PreparedStatement insert, int unit, UnitFigures figures)
            throws SQLException {
        long ns = Times.nsWithin(figures.at());
        long minuteNs = ns - Math.floorMod(ns, Times.MINUTE_NS);
        minutes.ensure(connection, minuteNs);
        List<String> keys = new ArrayList<>();
        List<Float> values = new ArrayList<>();
        List<Float> uncertainties = new ArrayList<>();
        List<Short> reasons = new ArrayList<>();
        for (IndicatorResult result : figures.results()) {
            keys.add(result.key());
            values.add(result.value().fold(estimate -> (float) estimate.value(), gap -> null));
            uncertainties.add(result.value().fold(estimate -> (float) estimate.standardUncertainty(), gap -> null));
            reasons.add(result.value().fold(estimate -> null, gap -> ReasonCode.of(gap.reason())));
        }
        for (FunctionSignal signal : figures.signals()) {
            keys.add(keyOf(signal));
            values.add((float) signal.signal().ordinal());
            uncertainties.add(0f);
            reasons.add(null);
        }
        keys.add(AVAILABLE);
        values.add(figures.summary() == Ne107.FAILURE ? 0f : 1f);
        uncertainties.add(0f);
        reasons.add(null);
        insert.setObject(1, Times.sql(minuteNs));
        insert.setInt(2, unit);
        insert.setInt(3, layout(connection, keys));
        insert.setArray(4, connection.createArrayOf("float4", values.toArray()));
        insert.setArray(5, connection.createArrayOf("float4", uncertainties.toArray()));
        insert.setArray(6, connection.createArrayOf("int2", reasons.toArray()));
        insert.addBatch();
    }

    private static String keyOf(FunctionSignal signal) {
        return SIGNAL + signal.function().name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private synchronized int layout(Connection connection, List<String> keys) throws SQLException {
        Integer known = layouts.get(keys);
        if (known != null) {
            return known;
        }
        try (PreparedStatement insert = connection.prepareStatement(LAYOUT)) {
            insert.setArray(1, connection.createArrayOf("text", keys.toArray()));
            try (ResultSet row = insert.executeQuery()) {
                row.next();
                layouts.put(List.copyOf(keys), row.getInt(1));
                return row.getInt(1);
            }
        }
    }

    /** Makes the hours of days that are over; returns how many days. */
    public int closeDays() throws SQLException {
        try (Connection connection = database.getConnection()) {
            return new FigureDays(connection, hours)
                    .close(clock.instant().minus(settings.closeAfter()), settings.keepMinutes());
        }
    }

    /** Drops what is older than it is to be kept; on TimescaleDB sets the policies that do so. */
    public void keepUp() throws SQLException {
        try (Connection connection = database.getConnection()) {
            if (flavour == Flavour.TIMESCALE) {
                TimescalePolicies.set(connection, settings);
                return;
            }
            Instant now = clock.instant();
            minutes.dropBefore(connection, now.minus(settings.keepMinutes()));
            hours.dropBefore(connection, now.minus(settings.keepHours()));
        }
    }

    private static final String LAYOUT = """
            INSERT INTO figure_layout (keys) VALUES (?)
            ON CONFLICT (keys) DO UPDATE SET keys = excluded.keys
            RETURNING layout_id""";

    private static final String INSERT_MINUTE = """
            INSERT INTO figure_minute (minute_at, unit_id, layout_id, value, uncertainty, reason)
            VALUES (?, ?, ?, ?, ?, ?)
            ON CONFLICT DO NOTHING""";
}
