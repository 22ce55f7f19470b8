package io.loopwarden.store;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import java.sql.Array;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * Numbers that stand for unit names, point names and layouts in the other tables. New ones are committed before they are used
 * (the connection given must be in auto-commit), so what is remembered here is always true.
 */
final class Dictionary {

    private final Map<UnitId, Integer> units = new HashMap<>();
    private final Map<PointName, Integer> points = new HashMap<>();
    private final Map<Integer, PointName> pointsById = new HashMap<>();
    private final Map<SortedMap<PointName, Conversion>, Layout> layouts = new HashMap<>();
    private final Map<Integer, Layout> layoutsById = new HashMap<>();

    /** The units' numbers; made for those that have none, all in one transaction. */
    synchronized Map<UnitId, Integer> unitIds(Connection connection, Set<UnitId> wanted) throws SQLException {
        Set<String> unknown = new TreeSet<>();
        wanted.stream().filter(unit -> !units.containsKey(unit)).forEach(unit -> unknown.add(unit.value()));
        numbers(connection, UNIT, unknown).forEach((name, id) -> units.put(new UnitId(name), id));
        return Map.copyOf(units);
    }

    /** The unit's number, if anything of it was ever stored. */
    synchronized Optional<Integer> knownUnitId(Connection connection, UnitId unit) throws SQLException {
        Integer known = units.get(unit);
        if (known == null) {
            known = select(connection, UNIT, unit.value());
            if (known != null) {
                units.put(unit, known);
            }
        }
        return Optional.ofNullable(known);
    }

    private void numberPoints(Connection connection, Set<PointName> wanted) throws SQLException {
        Set<String> unknown = new TreeSet<>();
        wanted.stream().filter(point -> !points.containsKey(point)).forEach(point -> unknown.add(point.value()));
        numbers(connection, POINT, unknown).forEach((name, id) -> remember(PointName.of(name), id));
    }

    private void remember(PointName point, int id) {
        points.put(point, id);
        pointsById.put(id, point);
    }

    synchronized Optional<Integer> knownPointId(Connection connection, PointName point) throws SQLException {
        if (!points.containsKey(point)) {
            Integer known = select(connection, POINT, point.value());
            if (known == null) {
                return Optional.empty();
            }
            remember(point, known);
        }
        return Optional.of(points.get(point));
    }

    /** The layout of exactly these points and conversions; made if there is none. */
    synchronized Layout layoutOf(Connection connection, SortedMap<PointName, Conversion> content) throws SQLException {
        if (layoutsById.isEmpty()) {
            loadLayouts(connection);
        }
        Layout known = layouts.get(content);
        if (known != null) {
            return known;
        }
        numberPoints(connection, content.keySet());
        int columns = content.size();
        Short[] ids = new Short[columns];
        int[] pointIds = new int[columns];
        Double[] factors = new Double[columns];
        Double[] offsets = new Double[columns];
        String[] ucum = new String[columns];
        int c = 0;
        for (Map.Entry<PointName, Conversion> column : content.entrySet()) {
            pointIds[c] = points.get(column.getKey());
            ids[c] = (short) pointIds[c];
            factors[c] = column.getValue().factor();
            offsets[c] = column.getValue().offset();
            ucum[c] = column.getValue().ucum();
            c++;
        }
        try (PreparedStatement insert = connection.prepareStatement(INSERT_LAYOUT)) {
            insert.setArray(1, connection.createArrayOf("smallint", ids));
            insert.setArray(2, connection.createArrayOf("float8", factors));
            insert.setArray(3, connection.createArrayOf("float8", offsets));
            insert.setArray(4, connection.createArrayOf("text", ucum));
            try (ResultSet row = insert.executeQuery()) {
                row.next();
                return remember(new Layout(row.getInt(1), new TreeMap<>(content), pointIds), content);
            }
        }
    }

    /** The layout with that number. */
    synchronized Layout layout(Connection connection, int id) throws SQLException {
        Layout known = layoutsById.get(id);
        if (known == null) {
            loadLayouts(connection);
            known = layoutsById.get(id);
        }
        if (known == null) {
            throw new CorruptFrameException("a frame refers to layout " + id + ", which is not in frame_layout");
        }
        return known;
    }

    private Layout remember(Layout layout, SortedMap<PointName, Conversion> content) {
        layouts.putIfAbsent(new TreeMap<>(content), layout);
        layoutsById.put(layout.id(), layout);
        return layout;
    }

    private void loadLayouts(Connection connection) throws SQLException {
        loadPoints(connection);
        try (PreparedStatement select = connection.prepareStatement(SELECT_LAYOUTS);
                ResultSet row = select.executeQuery()) {
            while (row.next()) {
                int id = row.getInt(1);
                Number[] pointIds = numbers(row.getArray(2));
                Number[] factors = numbers(row.getArray(3));
                Number[] offsets = numbers(row.getArray(4));
                String[] ucum = (String[]) row.getArray(5).getArray();
                SortedMap<PointName, Conversion> content = new TreeMap<>();
                int[] ids = new int[pointIds.length];
                for (int c = 0; c < ids.length; c++) {
                    ids[c] = pointIds[c].intValue();
                    content.put(
                            pointsById.get(ids[c]),
                            new Conversion(factors[c].doubleValue(), offsets[c].doubleValue(), ucum[c]));
                }
                remember(new Layout(id, content, ids), content);
            }
        }
    }

    private static Number[] numbers(Array array) throws SQLException {
        return (Number[]) array.getArray();
    }

    private void loadPoints(Connection connection) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement("SELECT point_id, name FROM point_name");
                ResultSet row = select.executeQuery()) {
            while (row.next()) {
                remember(PointName.of(row.getString(2)), row.getInt(1));
            }
        }
    }

    private static Map<String, Integer> numbers(Connection connection, NameTable table, Set<String> names)
            throws SQLException {
        Map<String, Integer> found = new HashMap<>();
        if (!names.isEmpty()) {
            collect(connection, table.selectAll(), names, found);
            Set<String> missing = new TreeSet<>(names);
            missing.removeAll(found.keySet());
            collect(connection, table.insert(), missing, found);
        }
        return found;
    }

    private static void collect(Connection connection, String sql, Set<String> names, Map<String, Integer> into)
            throws SQLException {
        if (names.isEmpty()) {
            return;
        }
        try (PreparedStatement statement = connection.prepareStatement(sql)) {
            statement.setArray(1, connection.createArrayOf("text", names.toArray()));
            try (ResultSet row = statement.executeQuery()) {
                while (row.next()) {
                    into.put(row.getString(2), row.getInt(1));
                }
            }
        }
    }

    private static Integer select(Connection connection, NameTable table, String name) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(table.select())) {
            select.setString(1, name);
            try (ResultSet row = select.executeQuery()) {
                return row.next() ? row.getInt(1) : null;
            }
        }
    }

    private record NameTable(String select, String selectAll, String insert) {}

    private static final NameTable UNIT = new NameTable(
            "SELECT unit_id FROM unit_name WHERE name = ?",
            "SELECT unit_id, name FROM unit_name WHERE name = ANY (?)",
            "INSERT INTO unit_name (name) SELECT unnest(?::text[]) RETURNING unit_id, name");

    private static final NameTable POINT = new NameTable(
            "SELECT point_id FROM point_name WHERE name = ?",
            "SELECT point_id, name FROM point_name WHERE name = ANY (?)",
            "INSERT INTO point_name (name) SELECT unnest(?::text[]) RETURNING point_id, name");

    private static final String SELECT_LAYOUTS =
            "SELECT layout_id, point_ids, factors, offsets, ucum FROM frame_layout ORDER BY layout_id";

    private static final String INSERT_LAYOUT = """
            INSERT INTO frame_layout (point_ids, factors, offsets, ucum)
            VALUES (?, ?, ?, ?)
            RETURNING layout_id""";
}
